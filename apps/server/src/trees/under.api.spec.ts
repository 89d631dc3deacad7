import { randomUUID } from 'node:crypto'
import { blankTree } from '@underbough/model'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, ringAt, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const box = (cornersM: [number, number][]) => ({
  type: 'Polygon' as const,
  coordinates: [ringAt(lampGreen, cornersM)],
})
const house = {
  name: 'House',
  kind: 'building' as const,
  geometry: box([
    [10, -8],
    [14, -8],
    [14, 8],
    [10, 8],
  ]),
  staticTarget: true,
  occupancyWord: 'constant' as const,
  occupancy: { kind: 'building' as const, peopleInside: new Array<number>(168).fill(2) },
  shelterHeightM: 6,
  shelterClass: 'masonry' as const,
  valueAtStake: 200_000,
}
/** Out of reach of the tree itself, within reach of its pieces. */
const beyond = {
  name: 'Beyond',
  geometry: box([
    [-28, -8],
    [-24, -8],
    [-24, 8],
    [-28, 8],
  ]),
  occupancyWord: 'constant' as const,
  occupancy: { kind: 'class' as const, word: 'constant' as const, peopleWhenPresent: 4 },
}
const tree = blankTree({
  tag: 'U1',
  species: 'Fagus sylvatica',
  position: lampGreen,
  positionAccuracyM: 3,
  stems: [{ diameterCm: 50, measuredAtM: 1.3 }],
  heightM: 20,
  deadOrBrittle: true,
  slope: { downhillBearingDeg: 90, angleDeg: 12 },
})

describe.each(databases)('who is under a tree, from its records, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let id: string
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    await officer('POST', '/zones', zoneExample(house))
    await officer('POST', '/zones', zoneExample(beyond))
    id = (await officer('POST', '/trees', tree)).body.id
    await harness.deps.jobs.idle()
  })
  afterAll(() => harness?.close())
  const under = async () => (await officer('GET', `/trees/${id}/exposure`)).body.under
  const closer = async (treeId: string) => officer('GET', `/trees/${treeId}/exposure/closer`)

  it('holds what the records say: slope, brittle wood and shelter', async () => {
    const { whole, shelters, named, policyEdition, parts } = await under()
    const idOf = Object.fromEntries(named.map((zone: { name: string; id: string }) => [zone.name, zone.id]))
    expect(whole.inputs.tree).toMatchObject({ brittle: true, slope: tree.slope })
    const thrownAt = whole.zones.find((zone: { id: string }) => zone.id === idOf.Beyond)
    expect(thrownAt.people).toMatchObject({ stem: 0, crown: 0 })
    expect(thrownAt.people.scatter).toBeGreaterThan(0)
    // Rests on the far edge of a wall 6 m high: 14 √(1 + (6/10)²) of 20 m straight across (model review, part 2.2).
    expect(shelters).toMatchObject([{ does: 'overhangs', heightM: 6, class: 'masonry', carriesCm: 150 }])
    expect(shelters[0].overhangM).toBeGreaterThan(20 - 14 * Math.sqrt(1.36) - 0.1)
    expect(named).toMatchObject([{ name: 'Beyond' }, { name: 'House', valueAtStake: 200_000 }])
    expect([policyEdition, parts]).toEqual([0, []])
  })

  it('says what moves the figures when it is asked, several trees at once each its own', async () => {
    const low = (await officer('POST', '/trees', { ...tree, tag: 'U3', heightM: 8, positionAccuracyM: 2 }))
      .body.id
    const gone = (await officer('POST', '/trees', { ...tree, tag: 'U4', status: 'gone' })).body.id
    const [of20m, of8m, ofNone] = (await Promise.all([id, low, gone].map(closer))).map(
      ({ body }) => body.closer,
    )
    expect([of20m.overCircle.radiusM, of8m.overCircle.radiusM, ofNone]).toEqual([3, 2, null])
    expect(of20m.overCircle.joint.least).toBeLessThan(of20m.overCircle.joint.most)
    // The figures as they are lie within what each input moves them to (`contributionsOf`); the low tree falls short of the house.
    const { people } = (await under()).whole.joint
    const named = of20m.contributions.map(({ input }: { input: string }) => input)
    expect(named).toEqual(expect.arrayContaining(['height', 'position', 'scatter', 'shelter-residual']))
    for (const { people: range } of of20m.contributions) {
      expect(range.least).toBeLessThanOrEqual(people.mean * 1.000001)
      expect(range.most).toBeGreaterThanOrEqual(people.mean * 0.999999)
    }
    expect(of8m.contributions[0].people.most).toBeLessThan(of20m.contributions[0].people.most)
    expect((await closer(randomUUID())).status).toBe(404)
  })

  it('takes a change from before slopes were recorded and leaves the slope as it is', async () => {
    const { slope: _, ...older } = tree
    const entry = {
      key: randomUUID(),
      kind: 'tree-change',
      authorId: 'officer-1',
      madeAt: '2026-11-25T11:00:00Z',
      clockOffsetMs: 0,
      body: { treeId: id, version: 1, tree: { ...older, heightM: 21 } },
    }
    const batch = { format: 3, deviceId: randomUUID(), sentAt: '2026-11-25T11:00:01Z', entries: [entry] }
    const answer = await officer('POST', '/entries', batch)
    expect(answer.body.answers[0].verdict, JSON.stringify(answer.body)).toBe('taken')
    const stored = (await officer('GET', `/trees/${id}`)).body.tree
    expect(stored).toMatchObject({ heightM: 21, slope: tree.slope, version: 2 })
    // Taken out on purpose it is gone.
    const level = await officer('PUT', `/trees/${id}`, { ...older, heightM: 21, slope: null, version: 2 })
    expect(level.body.slope).toBeNull()
  })

  it('refuses a slope that no tree stands on', async () => {
    const steep = { ...tree, tag: 'U2', slope: { downhillBearingDeg: 90, angleDeg: 88 } }
    expect((await officer('POST', '/trees', steep)).body.refusals).toMatchObject([
      { code: 'out-of-range', path: 'slope.angleDeg', value: 88, limit: 'at most 75' },
    ])
  })

  it('keeps seasons and group size where a change leaves them out, and refuses a month named twice', async () => {
    const rest = { kind: 'class', word: 'frequent', peopleWhenPresent: 2 } as const
    const closed = { name: 'Closed', months: [12, 1, 2], occupancy: { ...rest, peopleWhenPresent: 0 } }
    const made = await officer('POST', '/zones', zoneExample({ seasons: [closed], groupSize: 2.5 }))
    expect(made.body).toMatchObject({ seasons: [closed], groupSize: 2.5 })
    const changed = await officer('PUT', `/zones/${made.body.id}`, {
      ...zoneExample({ name: 'Renamed' }),
      version: 1,
    })
    expect(changed.body).toMatchObject({ name: 'Renamed', seasons: [closed], groupSize: 2.5 })
    const twice = zoneExample({ seasons: [closed, { ...closed, months: [1] }] })
    expect((await officer('POST', '/zones', twice)).body.refusals[0].path).toBe('seasons')
    expect((await officer('POST', '/zones', zoneExample({ groupSize: 0.5 }))).body.refusals).toMatchObject([
      { code: 'out-of-range', path: 'groupSize', limit: 'at least 1' },
    ])
  })
})
