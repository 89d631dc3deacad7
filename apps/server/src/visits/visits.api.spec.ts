import { createHash, randomUUID } from 'node:crypto'
import { blankTree, lookingSteps } from '@underbough/model'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const treeAt = (tag: string) =>
  blankTree({
    tag,
    species: 'Fagus sylvatica',
    commonName: 'Beech',
    position: [-8.248, -31.67],
    positionAccuracyM: 0.4,
    stems: [{ diameterCm: 94, measuredAtM: 1.3 }],
    heightM: 24.5,
    crownBaseHeightM: 5,
    crownRadiiM: { n: 7.2, e: 9.1, s: 8.4, w: 5.6 },
    lean: { bearingDeg: 102, angleDeg: 6 },
  })
// A bench about 9 m east of the tree.
const bench = {
  siteId: null,
  name: 'Bench by the beech',
  kind: 'seating',
  geometry: {
    type: 'Polygon',
    coordinates: [
      [
        [-8.2479, -31.67001],
        [-8.24788, -31.67001],
        [-8.24788, -31.66999],
        [-8.2479, -31.66999],
        [-8.2479, -31.67001],
      ],
    ],
  },
  fromLine: null,
  occupancyWord: 'frequent',
  occupancy: { kind: 'class', word: 'frequent', peopleWhenPresent: 2 },
  staticTarget: false,
  shelterHeightM: null,
  shelterClass: null,
  valueAtStake: null,
  partOf: null,
  note: '',
}
const visitOf = (treeId: string, id = randomUUID()) => ({
  id,
  treeId,
  level: 2,
  startedAt: '2026-11-25T09:05:00Z',
  endedAt: '2026-11-25T09:30:00Z',
  weather: 'dry, light wind',
  leafState: 'in-leaf',
  assignment: {
    scope: 'This tree',
    level: 2,
    levelReason: 'Due',
    timeFrameYears: 3,
    targets: 'The bench',
    limits: '',
  },
  steps: lookingSteps.map((step) => ({ step, result: 'nothing-found', notSeenBecause: null, seconds: 120 })),
  findings: [],
  couldNotSee: '',
  positionAccuracyM: 4,
})
const ratingOf = (
  treeId: string,
  visitId: string,
  zoneId: string | null,
  failure = 'possible',
  consequences = 'severe',
) => ({
  id: randomUUID(),
  treeId,
  visitId,
  timeFrameYears: 3,
  changeRate: 'ordinary',
  scenarios: [
    {
      id: randomUUID(),
      part: 'whole-tree',
      partSize: 'large',
      heightM: null,
      description: 'The tree goes over at the root plate towards the bench.',
      failure,
      knownBearingDeg: null,
      targets: zoneId
        ? [
            {
              zoneId,
              targetName: 'Bench',
              protection: 'none',
              proposedImpact: 'medium',
              impact: 'medium',
              impactReason: '',
              consequences,
            },
          ]
        : [],
    },
  ],
  overrideRisk: null,
  overrideReason: '',
  residualRisk: null,
})
const codes = (body: { refusals: { code: string; path: string }[] }) => body.refusals.map((r) => r.code)

describe.each(databases)('a visit, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let officer: Ask
  let zoneId: string
  let treeId: string
  let count = 0
  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    officer = await harness.as('officer')
    const zone = await officer('POST', '/zones', bench)
    expect(zone.status, JSON.stringify(zone.body)).toBe(200)
    zoneId = zone.body.id
  })
  afterAll(() => harness?.close())
  beforeEach(async () => {
    count++
    const tree = await officer('POST', '/trees', treeAt(`T${count}`))
    expect(tree.status, JSON.stringify(tree.body)).toBe(200)
    treeId = tree.body.id
  })
  const close = (
    visit: object,
    rating: object | null = null,
    urgentNote: object | null = null,
    works: object[] = [],
  ) =>
    inspector('POST', `/visits/${(visit as { id: string }).id}/close`, { visit, rating, works, urgentNote })

  it('is never seen and on the ramp first, and has a date and a reason once it is closed', async () => {
    const before = (await officer('GET', `/trees/${treeId}`)).body
    expect(before).toMatchObject({ seen: false, risk: null, due: { kind: 'baseline' } })
    const visit = visitOf(treeId)
    const answer = await close(visit, ratingOf(treeId, visit.id, zoneId))
    expect(answer.status, JSON.stringify(answer.body)).toBe(200)
    // possible × medium = unlikely; unlikely × severe = low (the trade's two matrices). Low beside a frequent target caps at 48
    // months; a large part that changes at the ordinary rate under frequent use is looked at sooner by the starting policy.
    expect(answer.body.rating).toMatchObject({ risk: 'low', worst: { joint: 'unlikely' } })
    expect(answer.body.due.kind).toBe('look')
    expect(answer.body.due.on > '2026-11-25').toBe(true)
    expect(answer.body.due.reason).toMatch(/frequent/)
    const after = (await officer('GET', `/trees/${treeId}`)).body
    expect(after).toMatchObject({ seen: true, risk: 'low', ratingOpen: false })
    expect(after.dueParts.length).toBeGreaterThan(0)
  })

  it('lists the latest closed visits over all trees, without drafts', async () => {
    const closed = visitOf(treeId)
    await close(closed, ratingOf(treeId, closed.id, zoneId))
    const draft = visitOf(treeId)
    expect((await inspector('PUT', `/visits/${draft.id}`, draft)).status).toBe(200)
    const { visits } = (await officer('GET', '/visits?limit=200')).body
    const ids = visits.map((v: { id: string }) => v.id)
    expect(ids).toContain(closed.id)
    expect(ids).not.toContain(draft.id)
    expect(visits.find((v: { id: string }) => v.id === closed.id)).toMatchObject({
      level: 2,
      findings: 0,
      risk: 'low',
      personName: 'The inspector',
      tree: { id: treeId, tag: `T${count}` },
    })
    expect((await officer('GET', '/visits?limit=1')).body.visits.length).toBe(1)
    expect((await harness.stranger('GET', '/visits')).status).toBe(401)
  })

  it('stores the same closing once, however often it is sent', async () => {
    const visit = visitOf(treeId)
    const rating = ratingOf(treeId, visit.id, zoneId)
    const first = await close(visit, rating)
    const again = await close(visit, rating)
    expect(again.status).toBe(200)
    expect(again.body.due).toEqual(first.body.due)
    const record = (await officer('GET', `/trees/${treeId}`)).body
    expect([record.visits.length, record.ratings.length]).toEqual([1, 1])
  })

  it('is refused without its assignment and with a step unanswered, and nothing is written', async () => {
    const visit = {
      ...visitOf(treeId),
      assignment: null,
      steps: visitOf(treeId).steps.filter((s) => s.step !== 'base'),
    }
    const answer = await close(visit)
    expect(answer.status).toBe(400)
    expect(codes(answer.body)).toEqual(['visit-no-assignment', 'visit-step-unanswered'])
    expect(answer.body.refusals[1].path).toBe('visit.steps.base')
    expect((await officer('GET', `/trees/${treeId}`)).body.visits).toEqual([])
  })

  it('asks why a step was not seen and what was found', async () => {
    const visit = visitOf(treeId)
    visit.steps[6]!.result = 'not-seen'
    visit.steps[4]!.result = 'findings'
    expect(codes((await close(visit)).body)).toEqual(['visit-step-unanswered', 'visit-step-unanswered'])
  })

  it('refuses a rating without scenario, without target, and an override without a reason', async () => {
    const visit = visitOf(treeId)
    expect(
      codes((await close(visit, { ...ratingOf(treeId, visit.id, zoneId), scenarios: [] })).body),
    ).toEqual(['rating-no-scenario'])
    expect(codes((await close(visit, ratingOf(treeId, visit.id, null))).body)).toEqual(['rating-no-target'])
    expect(
      codes((await close(visit, { ...ratingOf(treeId, visit.id, zoneId), overrideRisk: 'moderate' })).body),
    ).toEqual(['override-no-reason'])
  })

  it('proposes the likelihood of impact itself: a device cannot slip another one in as ours', async () => {
    const visit = visitOf(treeId)
    const rating = ratingOf(treeId, visit.id, zoneId)
    Object.assign(rating.scenarios[0]!.targets[0]!, { proposedImpact: 'very low', impact: 'very low' })
    expect(codes((await close(visit, rating)).body)).toEqual(['override-no-reason'])
  })

  it('asks for the urgent note before an imminent tree is closed, and keeps it until somebody reads it', async () => {
    const visit = visitOf(treeId)
    const rating = ratingOf(treeId, visit.id, zoneId, 'imminent')
    const without = await close(visit, rating)
    expect(codes(without.body)).toEqual(['urgent-note-first'])
    const note = {
      id: randomUUID(),
      treeId,
      visitId: visit.id,
      keptOut: true,
      toldWhom: 'The park keeper',
      toldHow: 'by telephone',
      toldAt: '2026-11-25T09:20:00Z',
      interimClosure: 'Tape round the bench',
    }
    const closed = await close(visit, rating, note)
    expect(closed.status, JSON.stringify(closed.body)).toBe(200)
    // imminent × medium = likely; × severe = high.
    expect(closed.body.rating.risk).toBe('high')
    expect(closed.body.due.kind).toBe('work')
    const open = async () =>
      (await officer('GET', '/urgent-notes?open=true')).body.notes.filter(
        (n: { note: { treeId: string } }) => n.note.treeId === treeId,
      )
    expect(await open()).toHaveLength(1)
    const path = `/urgent-notes/${note.id}/acknowledge`
    const done = { whatWasDone: 'Bench taken away, crew called' }
    expect((await inspector('POST', path, done)).status).toBe(403)
    // Reading it is not enough: without a word of what was done it stays.
    expect((await officer('POST', path, { whatWasDone: ' ' })).status).toBe(400)
    expect(await open()).toHaveLength(1)
    expect((await officer('POST', path, done)).status).toBe(204)
    // A second press changes nothing of the first.
    expect((await officer('POST', path, { whatWasDone: 'Nothing' })).status).toBe(204)
    expect(await open()).toEqual([])
    const whole = (await officer('GET', `/trees/${treeId}`)).body
    expect(whole.urgentNotes.find((n: { id: string }) => n.id === note.id)).toMatchObject(done)
  })

  it('an untreated high tree follows its work, and another look does not silence it', async () => {
    const visit = visitOf(treeId)
    // probable × medium = somewhat likely × severe = moderate: not enough; imminent gives high.
    const note = {
      id: randomUUID(),
      treeId,
      visitId: visit.id,
      keptOut: true,
      toldWhom: 'Keeper',
      toldHow: 'in person',
      toldAt: '2026-11-25T09:20:00Z',
      interimClosure: '',
    }
    const work = {
      id: randomUUID(),
      treeId,
      visitId: visit.id,
      kind: 'remove',
      description: 'Take the tree down.',
      dueOn: '2026-11-27',
      cost: 900,
      residualRisk: null,
    }
    const first = await close(visit, ratingOf(treeId, visit.id, zoneId, 'imminent'), note, [work])
    expect(first.body.due).toMatchObject({ kind: 'work' })
    const second = visitOf(treeId)
    const again = await close(second)
    expect(again.body.due.on).toBe(first.body.due.on)
    const done = await officer('PUT', `/works/${work.id}`, {
      state: 'done',
      doneOn: '2026-11-26',
      doneBy: 'Licensed crew',
    })
    expect(done.status, JSON.stringify(done.body)).toBe(200)
    expect((await officer('GET', `/trees/${treeId}`)).body.due.kind).toBe('look')
  })

  it('keeps a draft, however incomplete, for the same person alone', async () => {
    const draft = { ...visitOf(treeId), assignment: null, steps: [], endedAt: null }
    expect((await inspector('PUT', `/visits/${draft.id}`, draft)).body.stage).toBe('draft')
    expect(codes((await officer('PUT', `/visits/${draft.id}`, draft)).body)).toEqual(['conflict'])
    await close({ ...visitOf(treeId), id: draft.id })
    expect(codes((await inspector('PUT', `/visits/${draft.id}`, draft)).body)).toEqual(['visit-closed'])
  })

  it('keeps the original bytes of a photo, and says when they changed on the way', async () => {
    const bytes = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3, 4, 5, 6, 7, 8, 9])
    const sha256 = createHash('sha256').update(bytes).digest('hex')
    const send = (meta: object, content = bytes) => {
      const form = new FormData()
      form.set('file', new File([content], 'stem.jpg', { type: 'text/html' }))
      form.set(
        'meta',
        JSON.stringify({
          id: randomUUID(),
          ownerKind: 'tree',
          ownerId: treeId,
          caption: 'Stem',
          takenAt: null,
          position: null,
          ...meta,
        }),
      )
      return inspector('POST', '/photos', form)
    }
    const kept = await send({ sha256 })
    expect(kept.body).toMatchObject({ sha256, bytes: 13, mediaType: 'image/jpeg' })
    const back = await officer('GET', `/photos/${kept.body.id}`)
    expect(createHash('sha256').update(new Uint8Array(back.body)).digest('hex')).toBe(sha256)
    expect(codes((await send({ sha256: '0'.repeat(64) })).body)).toEqual(['malformed'])
    expect(
      codes((await send({}, new TextEncoder().encode('<html>') as Uint8Array<ArrayBuffer>)).body),
    ).toEqual(['file-not-this-format'])
    expect(codes((await send({ ownerId: randomUUID() })).body)).toEqual(['unknown'])
  })

  it('refuses a second writer with the record as it stands', async () => {
    const stored = (await officer('GET', `/trees/${treeId}`)).body.tree
    const change = { ...treeAt(stored.tag), heightM: 20, version: stored.version }
    expect((await officer('PUT', `/trees/${treeId}`, change)).body.version).toBe(stored.version + 1)
    const late = await officer('PUT', `/trees/${treeId}`, { ...change, heightM: 22 })
    expect(late.status).toBe(409)
    expect(late.body.current.heightM).toBe(20)
    expect((await (await harness.as('client'))('PUT', `/trees/${treeId}`, change)).status).toBe(403)
  })

  it('brings an event forward once, and works out who is under the tree', async () => {
    const visit = visitOf(treeId)
    await close(visit, ratingOf(treeId, visit.id, zoneId))
    const event = {
      id: randomUUID(),
      kind: 'digging',
      on: '2026-11-26',
      lookWithinDays: 30,
      note: 'Trench along the path',
    }
    for (let i = 0; i < 2; i++)
      expect((await officer('POST', `/trees/${treeId}/events`, event)).status).toBe(204)
    expect((await officer('GET', `/trees/${treeId}`)).body.due.on).toBe('2026-12-26')
    await harness.deps.jobs.idle()
    const { exposure } = (await officer('GET', `/trees/${treeId}/exposure`)).body
    expect(exposure.zones.map((z: { name: string }) => z.name)).toEqual(['Bench by the beech'])
    const [zone] = exposure.zones
    expect(zone.pTouch.mean).toBeGreaterThan(0)
    expect(zone.pAny).toBeLessThanOrEqual(Math.min(zone.pTouch.mean, 1 - Math.exp(-zone.people.mean)) + 1e-12)
  })
})
