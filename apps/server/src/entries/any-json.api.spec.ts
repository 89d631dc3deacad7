import { randomUUID } from 'node:crypto'
import { type EntryKind, entryKinds } from '@underbough/model'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { batchExample, closingExample, entryExample, treeExample, visitExample } from '../testing/bodies.ts'
import { zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

/** What is there already, for bodies to name. */
interface There {
  treeId: string
  visitId: string
  zoneId: string
  traceId: string
}
const wood = { label: 'R1', heightM: 1.3, instrument: 'drill 2', note: '', reason: 'To see how much is firm' }
const entry = { entryBearingDeg: 90, directionDeg: 270 }
const firm = [{ fromCm: 1, toCm: 9, condition: 'sound' }]
const trace = {
  ...wood,
  ...entry,
  kind: 'drill-trace',
  reading: {
    raw: ['depth;resistance', ...Array.from({ length: 101 }, (_, i) => `${i / 10};${20 + (i % 7)}`)].join(
      '\n',
    ),
    depthUnit: 'cm',
    depthColumn: 0,
    resistanceColumn: 1,
    resistanceUnit: '%',
    barkCm: 1,
    proposed: { method: 'trace 1', barkCm: 1, segments: firm },
  },
}
const readings = [
  trace,
  {
    ...wood,
    ...entry,
    kind: 'core',
    reading: {
      borerLengthCm: 40,
      reachedCm: 20,
      barkCm: 1,
      segments: firm,
      innermostRingsMm: [2, 3],
      pith: { reached: false, chordMm: 20, arcHeightMm: 4 },
    },
  },
  {
    ...wood,
    kind: 'sounding',
    reading: {
      rounds: [{ heightM: 1, struck: 'part', dullArcs: [{ fromBearingDeg: 10, toBearingDeg: 80 }] }],
    },
  },
  {
    ...wood,
    ...entry,
    kind: 'fracture-test',
    reading: {
      ofProbeId: null,
      coreDiameterMm: 5,
      leverMm: 10,
      breaks: [{ atCm: 2, angleDeg: 20, loadN: 12 }],
    },
  },
  {
    ...wood,
    kind: 'laboratory',
    reading: {
      laboratory: 'Town laboratory',
      result: 'A brittle rot',
      reportedOn: '2026-11-20',
      manner: 'brittle',
    },
  },
  {
    ...wood,
    kind: 'opening',
    reading: {
      fromBearingDeg: 100,
      toBearingDeg: 130,
      depthCm: 20,
      edgeWallsCm: { from: 8, to: 9 },
      fromHeightM: 0.5,
      toHeightM: 1.8,
    },
  },
  {
    ...wood,
    kind: 'cut',
    reading: { walls: [0, 60, 120, 180, 240, 300].map((bearingDeg) => ({ bearingDeg, wallCm: 12 })) },
  },
  {
    ...wood,
    kind: 'outline',
    reading: {
      by: 'radii',
      radii: [0, 90, 180, 270].map((bearingDeg) => ({ bearingDeg, radiusCm: 47 })),
      barkCm: 1,
    },
  },
  { ...wood, kind: 'outline', reading: { by: 'girth', girthCm: 295, barkCm: 1 } },
]

/** Bodies of every kind that would be taken as they are, or as far as there is anything for them to stand on. */
function rightBodies({ treeId, visitId, zoneId, traceId }: There): [EntryKind, unknown][] {
  const on = '2026-11-25'
  const note = {
    treeId,
    visitId,
    keptOut: true,
    toldWhom: 'The warden',
    toldHow: 'called',
    toldAt: `${on}T09:20:00Z`,
    interimClosure: '',
  }
  const visit = visitExample(treeId, {
    findings: [
      {
        id: randomUUID(),
        step: 'base',
        kind: 'opening',
        heightM: 0.4,
        bearingDeg: 10,
        extent: '20 cm',
        note: '',
      },
    ],
  })
  const closing = closingExample(visit)
  const lists = { steps: visit.steps.slice(0, 2) }
  const bodies: [EntryKind, object][] = [
    ['urgent-note', note],
    [
      'closing',
      {
        ...closing,
        works: [
          {
            treeId,
            visitId: null,
            kind: 'prune',
            description: 'Take off the limb',
            dueOn: on,
            cost: 90,
            residualRisk: 'low',
          },
        ],
        urgentNote: note,
      },
    ],
    [
      'found-tree',
      {
        tree: treeExample({ crownRadiiM: { n: 4, e: 5, s: 6, w: 5 }, lean: { bearingDeg: 10, angleDeg: 4 } }),
        stop: null,
        fallen: { part: 'limb', lies: 20 },
      },
    ],
    [
      'found-tree',
      {
        tree: treeExample({
          group: {
            count: 4,
            outline: {
              type: 'Polygon',
              coordinates: [
                [
                  [0, 0],
                  [0, 1],
                  [1, 1],
                  [0, 0],
                ],
              ],
            },
          },
        }),
        stop: { daySheetId: randomUUID(), level: 2 },
        fallen: null,
      },
    ],
    ['tree-change', { treeId, version: 1, tree: treeExample() }],
    ['visit-draft', { ...visit, ...lists }],
    ...readings.map((reading): [EntryKind, object] => ['reading', { ...reading, visitId }]),
    ['borders', { probeId: traceId, borders: { barkCm: 1, segments: firm, moved: true, note: '' } }],
    [
      'failure',
      {
        treeId,
        place: [-8.2, -31.6],
        on,
        part: 'limb',
        gustMps: 17.4,
        hit: 'A bench',
        nearMiss: false,
        note: '',
      },
    ],
    ['tree-event', { treeId, kind: 'gust', on, lookWithinDays: 14, note: '' }],
    ['walk-over', { zoneId, on, treeIds: [treeId], notes: [{ treeId, note: 'A crack' }], remark: '' }],
    ['stop-added', { daySheetId: randomUUID(), treeId, level: 2, because: 'It leans more' }],
    ['stop-end', { stopId: randomUUID(), visitId, skippedBecause: null }],
    ['day-order', { daySheetId: randomUUID(), stopIds: [randomUUID()], because: '' }],
    [
      'hand-over',
      { daySheetId: randomUUID(), toCrewId: randomUUID(), stopIds: [randomUUID()], because: 'Late' },
    ],
    [
      'photo',
      {
        ownerKind: 'tree',
        ownerId: treeId,
        sha256: 'a'.repeat(64),
        bytes: 9,
        takenAt: null,
        position: [0, 1],
        caption: '',
        copyOf: null,
        copyKind: null,
      },
    ],
  ]
  return bodies
}
/** Where a device makes an identifier; each body gets fresh ones, or everything after the first would be known already. */
const ownIds: Partial<Record<EntryKind, string[]>> = {
  closing: ['works.0.id', 'urgentNote.id'],
  'found-tree': ['id', 'stop.id', 'fallen.failureId'],
  borders: ['borders.id'],
  'stop-added': ['stopId'],
  'stop-end': [],
  'tree-change': [],
  'day-order': [],
  'hand-over': [],
  'visit-draft': [],
}

type Members = Record<string, unknown>
function put(body: unknown, path: string[], change: (old: unknown) => unknown): unknown {
  const [key, ...rest] = path
  if (key === undefined) return change(body)
  if (typeof body !== 'object' || body === null) return body
  const next = put((body as Members)[key], rest, change)
  if (Array.isArray(body)) return body.map((one, i) => (String(i) === key ? next : one))
  return { ...body, [key]: next }
}
const pathsOf = (value: unknown, path: string[] = []): string[][] =>
  typeof value === 'object' && value !== null
    ? [path, ...Object.entries(value).flatMap(([key, inner]) => pathsOf(inner, [...path, key]))]
    : [path]

const odd = fc.oneof(
  { weight: 3, arbitrary: fc.double({ noNaN: true, noDefaultInfinity: true }) },
  { weight: 3, arbitrary: fc.double({ min: 0, max: 400, noNaN: true }) },
  {
    weight: 3,
    arbitrary: fc.constantFrom<unknown>(0, -1, 1e-12, 0.5, 1, 359.999999, 1e300, 2 ** 31, 2 ** 53, null),
  },
  {
    weight: 3,
    arbitrary: fc.constantFrom('', ' ', 'a\u0000b', '\ud800', "'; drop table tree", 'x'.repeat(5000)),
  },
  {
    weight: 3,
    arbitrary: fc.constantFrom(
      '0000-01-01',
      '9999-12-31',
      '0000-01-01T00:00:00Z',
      '9999-12-31T23:59:59-14:00',
      '2026-11-25T09:00:00+23:59',
    ),
  },
  { weight: 2, arbitrary: fc.uuid() },
  { weight: 2, arbitrary: fc.string({ unit: 'binary', maxLength: 12 }) },
  { weight: 1, arbitrary: fc.constantFrom<unknown>([], {}, true, [[]], [null]) },
  { weight: 1, arbitrary: fc.jsonValue({ maxDepth: 2 }) as fc.Arbitrary<unknown> },
)

describe.each(databases)('any JSON at all, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let there: There
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    const treeId = (await officer('POST', '/trees', treeExample())).body.id
    const visit = visitExample(treeId)
    const zoneId = (await officer('POST', '/zones', zoneExample())).body.id
    await officer('POST', `/visits/${visit.id}/close`, closingExample(visit))
    const traceId = randomUUID()
    there = { treeId, visitId: visit.id, zoneId, traceId }
    expect((await officer('POST', '/probes', { ...trace, id: traceId, visitId: visit.id })).status).toBe(204)
  })
  afterAll(() => harness?.close())

  const fresh = (one: EntryKind, body: unknown) =>
    (ownIds[one] ?? ['id']).reduce(
      (out, path) =>
        put(out, path.split('.'), (old) => (path === 'id' || old === undefined ? randomUUID() : old)),
      body,
    )

  /** Right bodies with up to three of their values changed to odd ones. */
  const nearlyRight = fc
    .record({ which: fc.nat(), changes: fc.array(fc.tuple(fc.nat(), odd), { minLength: 0, maxLength: 3 }) })
    .map(({ which, changes }) => {
      const all = rightBodies(there)
      const [one, right] = all[which % all.length]!
      const body = changes.reduce(
        (out, [at, value]) => {
          const paths = pathsOf(out).slice(1)
          return paths.length === 0 ? out : put(out, paths[at % paths.length]!, () => value)
        },
        fresh(one, right),
      )
      return { one, body }
    })

  it('is taken where it is right', async () => {
    const entries = rightBodies(there).map(([one, body]) =>
      entryExample(one, fresh(one, body), { authorId: 'officer-1' }),
    )
    const { answers } = (await officer('POST', '/entries', batchExample(entries))).body
    const outcome = answers.map(
      (answer: { verdict: string; refusals: { code: string; path: string }[] }, i: number) =>
        [entries[i]!.kind, answer.verdict, ...answer.refusals.map((r) => `${r.code} ${r.path}`)].join(' '),
    )
    expect(outcome.filter((line: string) => !line.endsWith(' taken'))).toEqual([
      'found-tree refused unknown daySheetId',
      'stop-added refused unknown daySheetId',
      'stop-end later owner-missing id',
      'day-order refused unknown daySheetId',
      'hand-over refused unknown daySheetId',
      'photo later bytes-missing sha256',
    ])
    expect(new Set(entries.map((one) => one.kind))).toEqual(new Set(entryKinds))
  })

  it('never makes the office fail, in an entry of any kind', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(nearlyRight, { minLength: 12, maxLength: 12 }), async (bodies) => {
        const entries = bodies.map(({ one, body }) => entryExample(one, body, { authorId: 'officer-1' }))
        const answer = await officer('POST', '/entries', batchExample(entries))
        expect(answer.status).toBe(200)
        const faults = answer.body.answers.filter((one: { refusals: { code: string }[] }) =>
          one.refusals.some((r) => r.code === 'internal-fault'),
        )
        expect(faults).toEqual([])
        for (const read of ['', '/probes', '/sections'])
          expect((await officer('GET', `/trees/${there.treeId}${read}`)).status).toBe(200)
      }),
      { numRuns: 40, seed: 11 },
    )
  })

  it.each([
    ['POST', '/entries'],
    ['POST', '/entries/known'],
    ['POST', '/second-versions/0b7e5f0a-8d52-4f0e-9a10-1f2f3c4d5e6f/choose'],
    ['POST', '/sites'],
  ])('never makes the office fail, at %s %s', async (method, path) => {
    const body = fc.oneof(
      fc.jsonValue({ maxDepth: 3 }),
      fc.record({
        format: fc.oneof(fc.integer(), fc.constant(3)),
        deviceId: fc.uuid(),
        sentAt: fc.constantFrom('2026-11-25T12:00:00Z', '0000-01-01T00:00:00Z', '9999-12-31T00:00:00Z'),
        entries: fc.array(odd, { maxLength: 3 }),
        keys: fc.array(odd, { maxLength: 3 }),
        take: odd,
        version: odd,
      }),
    )
    await fc.assert(
      fc.asyncProperty(body, async (value) => {
        expect((await officer(method, path, value ?? undefined)).status).toBeLessThan(500)
      }),
      { numRuns: 60, seed: 5 },
    )
  })
})
