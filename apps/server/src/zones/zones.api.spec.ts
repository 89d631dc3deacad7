import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, point, ringAt, storeTree, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

/** Area of the ellipsoid between two parallels and two meridians, square metres: Snyder, Map Projections - A Working Manual, USGS Professional Paper 1395 (1987), equation 3-12. */
function graticuleAreaM2(west: number, south: number, east: number, north: number): number {
  const f = 1 / 298.257223563
  const e2 = f * (2 - f)
  const e = Math.sqrt(e2)
  const q = (latitude: number) => {
    const s = Math.sin((latitude * Math.PI) / 180)
    return (1 - e2) * (s / (1 - e2 * s * s) - Math.log((1 - e * s) / (1 + e * s)) / (2 * e))
  }
  return ((6378137 ** 2 * ((east - west) * Math.PI)) / 180 / 2) * (q(north) - q(south))
}

describe.each(databases)('target zones, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  it('measures the area on the ellipsoid, holes left out', async () => {
    const ring = (w: number, s: number, e: number, n: number) => [
      [w, s],
      [e, s],
      [e, n],
      [w, n],
      [w, s],
    ]
    const geometry = {
      type: 'Polygon',
      coordinates: [ring(-8.25, -31.67, -8.248, -31.669), ring(-8.2495, -31.6698, -8.249, -31.6695)],
    }
    const { body } = await officer('POST', '/zones', { ...zoneExample(), geometry })
    const expected =
      graticuleAreaM2(-8.25, -31.67, -8.248, -31.669) - graticuleAreaM2(-8.2495, -31.6698, -8.249, -31.6695)
    expect(Math.abs(body.areaM2 / expected - 1)).toBeLessThan(1e-6)
    expect(body.geometry).toEqual(geometry)
    const list = (await officer('GET', '/zones')).body.zones
    expect(list[0]).toMatchObject({ id: body.id, name: 'Play area', areaM2: body.areaM2 })
    expect(list[0].geometry).toBeUndefined()
  })

  it.each([
    [
      'an outline that crosses itself',
      [
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ],
      'geometry-crosses-itself',
    ],
    [
      'an outline without area',
      [
        [0, 0],
        [10, 0],
        [20, 0],
      ],
      'geometry-no-area',
    ],
  ] as [string, [number, number][], string][])('refuses %s', async (_, corners, code) => {
    const geometry = { type: 'Polygon', coordinates: [ringAt(lampGreen, corners)] }
    const answer = await officer('POST', '/zones', { ...zoneExample(), geometry })
    expect([answer.status, answer.body.refusals[0].code]).toEqual([400, code])
  })

  it('refuses a hole that leaves the outline, a line and a larger zone that goes round in a circle', async () => {
    const hole = [
      ringAt(lampGreen, [
        [0, 0],
        [20, 0],
        [20, 10],
        [0, 10],
      ]),
      ringAt(lampGreen, [
        [15, 2],
        [30, 2],
        [30, 5],
        [15, 5],
      ]),
    ]
    const answer = await officer('POST', '/zones', {
      ...zoneExample(),
      geometry: { type: 'Polygon', coordinates: hole },
    })
    expect(answer.body.refusals[0].code).toBe('geometry-crosses-itself')
    const line = { type: 'LineString', coordinates: [lampGreen, [-8.24, -31.66]] }
    expect(
      (await officer('POST', '/zones', { ...zoneExample(), geometry: line })).body.refusals[0].path,
    ).toBe('geometry.type')

    const { body: outer } = await officer('POST', '/zones', zoneExample({ name: 'Green' }))
    const { body: inner } = await officer('POST', '/zones', zoneExample({ partOf: outer.id }))
    const round = await officer('PUT', `/zones/${outer.id}`, {
      ...zoneExample(),
      partOf: inner.id,
      version: 1,
    })
    expect(round.body.refusals[0]).toMatchObject({ code: 'malformed', path: 'partOf' })
    const nowhere = await officer('POST', '/zones', zoneExample({ partOf: randomUUID() }))
    expect(nowhere.body.refusals[0]).toMatchObject({ code: 'unknown', path: 'partOf' })
    const held = await officer('DELETE', `/zones/${outer.id}`)
    expect([held.status, held.body.refusals[0].code]).toEqual([409, 'in-use'])
  })

  it('gives the stored zone beside a conflict', async () => {
    const { body: made } = await officer('POST', '/zones', zoneExample())
    const { body: changed } = await officer('PUT', `/zones/${made.id}`, {
      ...zoneExample({ name: 'Swings' }),
      version: 1,
    })
    const late = await officer('PUT', `/zones/${made.id}`, { ...zoneExample({ name: 'Slide' }), version: 1 })
    expect(late.status).toBe(409)
    expect(late.body.current).toEqual(changed)
    expect((await officer('GET', `/zones/${made.id}`)).body.zone.name).toBe('Swings')
  })

  it('opens again the newest ratings that named a zone when its outline or use changes, and only then', async () => {
    const { database, jobs } = harness.deps
    const { body: zone } = await officer(
      'POST',
      '/zones',
      zoneExample({ name: 'Bandstand', kind: 'seating' }),
    )
    const near = await storeTree(database, harness.organisationId, { position: point(lampGreen) })
    const far = await storeTree(database, harness.organisationId, { position: point([-8.26, -31.67]) })
    const old = await storeRating(harness, near, zone.id, '2026-01-01T10:00:00Z')
    const newest = await storeRating(harness, near, zone.id, '2026-06-01T10:00:00Z')
    const elsewhere = await storeRating(harness, far, randomUUID(), '2026-06-01T10:00:00Z')
    const stored = async (id: string) =>
      (await database.db.select().from(tables.rating).where(eq(tables.rating.id, id)))[0]!
    const before = await stored(newest)

    await officer('PUT', `/zones/${zone.id}`, { ...zone, name: 'Old bandstand' })
    expect((await stored(newest)).reopenedBecause).toBeNull()

    const changed = await officer('PUT', `/zones/${zone.id}`, {
      ...zone,
      version: 2,
      occupancyWord: 'constant',
      occupancy: { kind: 'class', word: 'constant', peopleWhenPresent: 12 },
    })
    expect(changed.status).toBe(200)
    const after = await stored(newest)
    expect(after.reopenedBecause).toContain('2026-11-25')
    expect({ ...after, reopenedBecause: null }).toEqual(before)
    expect((await stored(old)).reopenedBecause).toBeNull()
    expect((await stored(elsewhere)).reopenedBecause).toBeNull()
    await jobs.idle()
    const started = await database.db.select().from(tables.job).where(eq(tables.job.kind, 'exposure'))
    expect(started.some((job) => (job.input as { treeIds: string[] }).treeIds.join() === near)).toBe(true)
    expect(started.some((job) => (job.input as { treeIds: string[] }).treeIds.includes(far))).toBe(false)
  })

  it('opens again the rating of a tree that a new zone lies within reach of, and of no other', async () => {
    const { database } = harness.deps
    const near = await storeTree(database, harness.organisationId, {
      position: point(lampGreen),
      heightM: 20,
    })
    const far = await storeTree(database, harness.organisationId, {
      position: point([-8.26, -31.67]),
      heightM: 20,
    })
    const [close, away] = [
      await storeRating(harness, near, randomUUID(), '2026-06-01T10:00:00Z'),
      await storeRating(harness, far, randomUUID(), '2026-06-01T10:00:00Z'),
    ]
    const made = await officer('POST', '/zones', zoneExample({ name: 'New play ground', kind: 'play' }))
    expect(made.status).toBe(200)
    const because = async (id: string) =>
      (await database.db.select().from(tables.rating).where(eq(tables.rating.id, id)))[0]!.reopenedBecause
    expect(await because(close)).toContain('New play ground')
    expect(await because(away)).toBeNull()
    expect((await officer('GET', `/trees/${near}`)).body.ratingOpen).toBe(true)
  })

  it('lists the trees over a zone, the one that bears most first', async () => {
    const { database } = harness.deps
    const { body: zone } = await officer('POST', '/zones', zoneExample())
    // A new zone's own exposure is worked out in the background, for the trees of the tests above; the figures
    // written below stand in its place.
    await harness.deps.jobs.idle()
    await database.db.delete(tables.exposureZone).where(eq(tables.exposureZone.zoneId, zone.id))
    const figures = {
      peopleStem: 0,
      peopleCrown: 0,
      pTouch: 0.25,
      pTouchLeast: 0,
      pTouchMost: 1,
      pAny: 0.1,
      touching: [],
    }
    for (const [tag, people] of [
      ['little', 0.1],
      ['much', 1.5],
    ] as const) {
      const treeId = await storeTree(
        database,
        harness.organisationId,
        { tag, position: point(lampGreen) },
        { risk: 'high' },
      )
      await database.db.insert(tables.exposureZone).values({
        organisationId: harness.organisationId,
        treeId,
        zoneId: zone.id,
        people,
        peopleLeast: people / 2,
        peopleMost: people * 2,
        ...figures,
      })
    }
    const { body } = await officer('GET', `/zones/${zone.id}`)
    expect(body.treesTotal).toBe(2)
    expect(body.trees).toMatchObject([
      { tag: 'much', risk: 'high', people: { mean: 1.5, least: 0.75, most: 3 } },
      { tag: 'little', people: { mean: 0.1 } },
    ])
  })
})

async function storeRating(
  { deps, organisationId }: Harness,
  treeId: string,
  zoneId: string,
  ratedAt: string,
) {
  const { db } = deps.database
  const [visitId, id, scenarioId] = [randomUUID(), randomUUID(), randomUUID()]
  await db.insert(tables.visit).values({
    organisationId,
    id: visitId,
    treeId,
    personId: 'inspector-1',
    level: 2,
    stage: 'closed',
    startedAt: ratedAt,
    weather: 'calm',
    leafState: 'in-leaf',
    steps: [],
    couldNotSee: '',
  })
  const target = {
    zoneId,
    targetName: 'Bandstand',
    protection: 'none',
    proposedImpact: 'high',
    impact: 'high',
    impactReason: '',
    consequences: 'severe',
  } as const
  await db.insert(tables.rating).values({
    organisationId,
    id,
    treeId,
    visitId,
    personId: 'inspector-1',
    ratedAt,
    timeFrameYears: 3,
    changeRate: 'ordinary',
    scenarios: [
      {
        id: scenarioId,
        part: 'limb',
        partSize: 'medium',
        heightM: 6,
        description: 'The limb falls on the bandstand.',
        failure: 'possible',
        knownBearingDeg: null,
        targets: [target],
      },
    ],
    worst: {
      scenarioId,
      targetName: 'Bandstand',
      failure: 'possible',
      impact: 'high',
      joint: 'somewhat likely',
      consequences: 'severe',
      risk: 'moderate',
    },
    computedRisk: 'moderate',
    overrideReason: '',
    risk: 'moderate',
    matricesEdition: '1',
    policyEdition: '1',
    methodVersion: '1',
  })
  return id
}
