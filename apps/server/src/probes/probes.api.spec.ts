import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import type { ProbeInput } from '@underbough/model'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { lampGreen, point, storeTree } from '../testing/examples.ts'
import { type Answer, type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const said = ({ status, body }: Answer) =>
  [status, body.refusals[0]?.code, body.refusals[0]?.path].filter(Boolean).join(' ')

const rows = Array.from({ length: 60 }, (_, i) => `${(i * 5).toFixed(1)};${(20 + (i % 7)).toFixed(2)}`)
/** As an instrument may write it: another end of line, a letter beyond ASCII, a blank at the end. */
const raw = `Tiefe_mm;Widerstand_‰\r\n${rows.join('\r\n')}\r\n `
const fault = (row: number, text: string) => ['mm;%', ...rows.with(row, text)].join('\n')

const entry = { entryBearingDeg: 20.123456789, directionDeg: 200, tiltDeg: 0 }
const sound = { fromCm: 1.6, toCm: 17.2, condition: 'sound' }
const core = {
  borerLengthCm: 40,
  reachedCm: 31.5,
  barkCm: 1.6,
  segments: [sound, { fromCm: 17.2, toCm: 22.4, condition: 'softened-fibrous' }],
  ringsCounted: 118,
  innermostRingsMm: [1.2, 0.9],
  innermost10mmRings: null,
  outerTenRingsMm: 14,
  pith: { reached: false, chordMm: 20, arcHeightMm: 2 },
  manner: 'flexes',
  smell: 'of mushrooms',
}
const trace = {
  raw,
  depthUnit: 'mm',
  depthColumn: 0,
  resistanceColumn: 1,
  resistanceUnit: '‰ of full scale',
  barkCm: 1.6,
  proposed: { method: 'trace-1', barkCm: null, segments: [sound] },
}

describe.each(databases)('readings into wood, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let officer: Ask
  let treeId: string
  let visitId: string

  const probe = (of: string, reading: object, changes: object = {}) => ({
    id: randomUUID(),
    visitId,
    kind: of,
    label: 'C1',
    heightM: 2.1,
    instrument: 'Increment borer, 40 cm, 5 mm',
    instrumentCondition: 'sharpened this spring',
    operator: 'L. Sand',
    disinfected: true,
    note: '',
    reason: 'Dull sound all round',
    ...(['core', 'drill-trace', 'fracture-test'].includes(of) && entry),
    reading,
    ...changes,
  })
  const keep = (input: object, ask = inspector) => ask('POST', '/probes', input)
  const list = async (id = treeId) => (await officer('GET', `/trees/${id}/probes`)).body.probes
  const storeVisit = async (
    of: string,
    startedAt: string,
    organisationId = harness.organisationId,
    id: string = randomUUID(),
  ) => {
    await harness.deps.database.db.insert(tables.visit).values({
      organisationId,
      id,
      treeId: of,
      personId: 'inspector-1',
      level: 3,
      stage: 'closed',
      startedAt,
      weather: '',
      leafState: 'in-leaf',
      steps: [],
      couldNotSee: '',
    })
    return id
  }
  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())
  beforeEach(async () => {
    treeId = await storeTree(harness.deps.database, harness.organisationId, { position: point(lampGreen) })
    visitId = await storeVisit(treeId, '2026-11-20T09:00:00Z')
  })

  it('keeps every kind as it was entered, and gives it back with the day and the person of its visit', async () => {
    const bored = probe('core', core)
    const readings = [
      bored,
      probe('drill-trace', trace, { label: 'T1', tiltDeg: -4.5, disinfected: null }),
      probe('sounding', {
        rounds: [{ heightM: 0.5, struck: 'part', dullArcs: [{ fromBearingDeg: 340, toBearingDeg: 25 }] }],
      }),
      probe('fracture-test', {
        ofProbeId: bored.id,
        coreDiameterMm: 5,
        leverMm: 20,
        breaks: [{ atCm: 4.2, angleDeg: 35, loadN: 18.5 }],
      }),
      probe('laboratory', {
        laboratory: 'Port Maud plant clinic',
        question: 'Which fungus?',
        result: 'A white rot.',
        reportedOn: '2026-12-03',
        manner: 'fibrous',
      }),
      probe('opening', {
        fromBearingDeg: 98,
        toBearingDeg: 124,
        depthCm: 30,
        edgeWallsCm: { from: 9.5, to: 8.8 },
        fromHeightM: 1.7,
        toHeightM: 2.6,
      }),
      probe('cut', { walls: [{ bearingDeg: 0, wallCm: 12.4 }] }),
      probe('outline', {
        by: 'radii',
        radii: [0, 90, 180, 270].map((bearingDeg) => ({ bearingDeg, radiusCm: 48.5 })),
        barkCm: 1.6,
      }),
      probe('outline', { by: 'girth', girthCm: 305, barkCm: null }, { reason: '' }),
    ]
    for (const reading of readings) {
      const answer = await keep(reading)
      expect(answer.status, JSON.stringify(answer.body)).toBe(204)
    }
    const kept = await list()
    expect(kept).toHaveLength(readings.length)
    for (const reading of readings)
      expect(kept.find((p: ProbeInput) => p.id === reading.id)).toEqual({
        ...reading,
        treeId,
        on: '2026-11-20',
        personName: 'The inspector',
        borders: [],
      })
  })

  it('lists the newest visit first', async () => {
    // Of two visits the older one has the lesser identifier, so that the order of identifiers is not taken for that of days.
    const least = randomUUID().replace(/^.{8}/, '00000000')
    const older = await storeVisit(treeId, '2024-03-01T09:00:00Z', harness.organisationId, least)
    for (const [label, of] of [
      ['old', older],
      ['new', visitId],
      ['older', older],
    ])
      await keep(probe('core', core, { label, visitId: of }))
    expect((await list()).map((p: ProbeInput) => p.label)).toEqual(['new', 'old', 'older'])
  })

  it('stores the same reading once, refuses another of its identifier, and keeps the first', async () => {
    const first = probe('core', core, { heightM: 1.23456789, entryBearingDeg: 12.3456789 })
    for (let i = 0; i < 2; i++) expect((await keep(first)).status).toBe(204)
    // The same members in another order, and a default left out, are the same reading.
    const { tiltDeg: _, ...rest } = first as typeof first & { tiltDeg?: number }
    expect((await keep(Object.fromEntries(Object.entries(rest).reverse()))).status).toBe(204)
    for (const other of [
      { ...first, note: 'Another note' },
      { ...first, reading: { ...core, ringsCounted: 117 } },
      { ...first, visitId: await storeVisit(treeId, '2025-03-01T09:00:00Z') },
    ]) {
      const answer = await keep(other)
      expect(said(answer)).toBe('409 conflict id')
      expect(answer.body.current.reading).toEqual(core)
    }
    expect(await list()).toMatchObject([{ id: first.id, note: '', reading: core, visitId }])
    // Two at once: one is stored and one refused, whichever comes first.
    const id = randomUUID()
    const both = await Promise.all([keep({ ...first, id }), keep({ ...first, id, note: 'b' })])
    expect(both.map(({ status }) => status).toSorted()).toEqual([204, 409])
    expect(await list()).toHaveLength(2)
  })

  it('takes readings of inspectors and officers, of visits and cores that are here', async () => {
    for (const role of ['client', 'manager'] as const) {
      const ask = await harness.as(role)
      expect((await keep(probe('core', core), ask)).status).toBe(403)
      expect((await ask('GET', `/trees/${treeId}/probes`)).status).toBe(200)
    }
    expect((await keep(probe('core', core), officer)).status).toBe(204)
    expect(said(await keep(probe('core', core, { visitId: randomUUID() })))).toBe('404 unknown visitId')
    const elsewhere = randomUUID()
    await harness.deps.database.db.insert(tables.organisation).values({
      id: elsewhere,
      name: 'Another island',
      timeZone: 'UTC',
      hemisphere: 'north',
      stemHeightM: 1.3,
      units: 'metric',
      failureTimeFrameYears: 3,
    })
    const theirTree = await storeTree(harness.deps.database, elsewhere, { position: point(lampGreen) })
    const theirVisit = await storeVisit(theirTree, '2026-11-20T09:00:00Z', elsewhere)
    expect(said(await keep(probe('core', core, { visitId: theirVisit })))).toBe('404 unknown visitId')
    expect(said(await officer('GET', `/trees/${theirTree}/probes`))).toBe('404 unknown id')
    const breaks = { coreDiameterMm: 5, leverMm: 20, breaks: [{ atCm: 4, angleDeg: 35, loadN: 18 }] }
    expect(said(await keep(probe('fracture-test', { ...breaks, ofProbeId: randomUUID() })))).toBe(
      '404 unknown reading.ofProbeId',
    )
    expect(await list()).toHaveLength(1)
  })

  const bored = (changes: object) => probe('core', { ...core, ...changes })
  const drilled = (text: string) => probe('drill-trace', { ...trace, raw: text })
  it.each<[string, () => object, string]>([
    ['text in the trace', () => drilled(fault(17, '80.0;hard')), 'trace-text reading.raw.row 19'],
    [
      'a depth that goes back',
      () => drilled(fault(17, '79.0;22')),
      'trace-depth-backwards reading.raw.row 19',
    ],
    ['no resistance', () => drilled(fault(17, '85.0;')), 'trace-resistance-missing reading.raw.row 19'],
    [
      'a column that is not there',
      () => probe('drill-trace', { ...trace, resistanceColumn: 2 }),
      'column-missing reading.resistanceColumn',
    ],
    ['too few rows', () => drilled('mm;%\n0;1\n5;2\n'), 'trace-too-short reading.raw'],
    ['a zero byte', () => drilled(`${raw}\0`), 'file-not-text reading.raw'],
    ['half a character', () => bored({ smell: '\ud83c' }), 'file-not-text reading.smell'],
    [
      'a segment beyond the borer',
      () => bored({ segments: [sound, { ...sound, fromCm: 17.2, toCm: 33 }] }),
      'reading-past-borer reading.segments',
    ],
    ['deeper than the borer is long', () => bored({ reachedCm: 41 }), 'reading-past-borer reading.reachedCm'],
    [
      'overlapping segments',
      () => bored({ segments: [sound, { ...sound, fromCm: 15, toCm: 20 }] }),
      'segments-overlap reading.segments.1.fromCm',
    ],
    [
      'a segment backwards',
      () => bored({ segments: [sound, { ...sound, fromCm: 20, toCm: 18 }] }),
      'segment-backwards reading.segments.1.toCm',
    ],
    [
      'a bearing of 360°',
      () => probe('core', core, { entryBearingDeg: 360 }),
      'out-of-range entryBearingDeg',
    ],
    ['a bearing of −1°', () => probe('core', core, { directionDeg: -1 }), 'out-of-range directionDeg'],
    [
      'an arc over half a circle',
      () => bored({ pith: { reached: false, chordMm: 20, arcHeightMm: 11 } }),
      'pith-arc reading.pith.arcHeightMm',
    ],
    [
      'text for a chord',
      () => bored({ pith: { reached: false, chordMm: 'wide', arcHeightMm: 2 } }),
      'malformed reading.pith.chordMm',
    ],
    [
      'three radii',
      () =>
        probe('outline', {
          by: 'radii',
          radii: [0, 90, 180].map((bearingDeg) => ({ bearingDeg, radiusCm: 9 })),
        }),
      'out-of-range reading.radii',
    ],
    ['no reason for a wound', () => probe('core', core, { reason: ' ' }), 'out-of-range reason'],
    ['an unknown kind', () => probe('x-ray', {}), 'malformed kind'],
  ])('refuses %s with its code and place, and writes nothing', async (_, input, expected) => {
    expect(said(await keep(input()))).toBe(`400 ${expected}`)
    expect(await list()).toEqual([])
  })

  it('says which figure was refused', async () => {
    const { refusals } = (await keep(probe('core', core, { entryBearingDeg: 360 }))).body
    expect(refusals).toMatchObject([{ value: 360, limit: 'below 360' }])
  })

  it('adds borders to a trace in the name of whoever accepts them, and never takes any away', async () => {
    const drilled = probe('drill-trace', trace)
    const bored = probe('core', core)
    for (const input of [drilled, bored]) await keep(input)
    const at = `/probes/${drilled.id}/borders`
    const first = { id: randomUUID(), barkCm: 1.6, segments: [sound], moved: false, note: '' }
    const second = {
      ...first,
      id: randomUUID(),
      segments: [{ ...sound, toCm: 16.4 }],
      moved: true,
      note: 'A ring',
    }
    const stamp = { at: '2026-11-25T12:00:00.000Z' }
    const byInspector = { ...first, ...stamp, personId: 'inspector-1', personName: 'The inspector' }
    const byOfficer = { ...second, ...stamp, personId: 'officer-1', personName: 'The officer' }
    for (let i = 0; i < 2; i++) expect((await inspector('POST', at, first)).body).toEqual(byInspector)
    expect((await officer('POST', at, second)).body).toEqual(byOfficer)
    expect(said(await inspector('POST', at, { ...first, moved: true }))).toBe('409 conflict id')
    const past = { ...first, id: randomUUID(), segments: [sound, { ...sound, fromCm: 18, toCm: 30 }] }
    expect(said(await inspector('POST', at, past))).toBe('400 out-of-range segments.1.toCm')
    const backwards = { ...past, segments: [{ ...sound, toCm: 1 }] }
    expect(said(await inspector('POST', at, backwards))).toBe('400 segment-backwards segments.0.toCm')
    expect((await (await harness.as('client'))('POST', at, past)).status).toBe(403)
    expect(said(await inspector('POST', `/probes/${bored.id}/borders`, first))).toBe('400 malformed id')
    expect(said(await inspector('POST', `/probes/${randomUUID()}/borders`, first))).toBe('404 unknown id')
    const kept = (await list()).find((p: ProbeInput) => p.id === drilled.id)
    expect(kept.borders).toEqual([byInspector, byOfficer])
    expect(kept.reading).toEqual(trace)
  })

  it('gives a trace back as it came, byte for byte', async () => {
    const drilled = probe('drill-trace', trace, { label: 'T1 ost' })
    await keep(drilled)
    const answer = await officer('GET', `/probes/${drilled.id}/trace.csv`)
    expect(answer.body).toBe(raw)
    expect(answer.headers.get('content-type')).toBe('text/csv; charset=utf-8')
    expect(answer.headers.get('content-disposition')).toMatch(/^attachment; filename="T\w{6}-T1_ost\.csv"$/)
    const bored = probe('core', core)
    await keep(bored)
    expect(said(await officer('GET', `/probes/${bored.id}/trace.csv`))).toBe('404 unknown id')
  })

  it('has room for a trace of three million characters and no more', async () => {
    const line = (i: number) => `${(i / 100).toFixed(2).padStart(10)};${'20.00'.padStart(38)}\n`
    const long = Array.from({ length: 59_900 }, (_, i) => line(i))
      .join('')
      .padEnd(3_000_000)
    const drilled = probe('drill-trace', { ...trace, raw: long })
    expect(said({ ...(await keep(drilled)), body: { refusals: [] } })).toBe('204')
    expect((await officer('GET', `/probes/${drilled.id}/trace.csv`)).body).toBe(long)
    const longer = probe('drill-trace', { ...trace, raw: `${long} ` })
    expect(said(await keep(longer))).toBe('400 out-of-range reading.raw')
    const far = probe('drill-trace', { ...trace, raw: long.repeat(3) })
    expect(said(await keep(far))).toBe('413 too-large')
  })

  it('makes a section of the readings of each height, counts a trace once its borders are accepted, and mixes no heights', async () => {
    const bored = (label: string, bearing: number, heightM: number) => ({
      ...probe('core', { ...core, reachedCm: 22.4, pith: null }, { label, heightM }),
      entryBearingDeg: bearing,
      directionDeg: (bearing + 180) % 360,
    })
    const cores = [bored('C1', 0, 2.1), bored('C2', 90, 2.2), bored('C3', 180, 2), bored('C4', 270, 0.5)]
    const drilled = {
      ...probe('drill-trace', trace, { label: 'T1' }),
      entryBearingDeg: 270,
      directionDeg: 90,
    }
    const girthAt = (heightM: number) =>
      probe('outline', { by: 'girth', girthCm: 300, barkCm: null }, { label: 'G1', heightM })
    for (const one of [...cores, drilled, girthAt(2.1), girthAt(0.5)])
      expect((await inspector('POST', '/probes', one)).status).toBe(204)
    const ask = async (query = '') =>
      (await officer('GET', `/trees/${treeId}/sections${query}`)).body.sections
    const [low, high] = await ask()
    expect([low.heightM, low.section.says, low.section.outline.basis]).toEqual([0.5, 'walls', 'girth'])
    expect([high.section.says, high.section.readings.length, high.section.outline.basis]).toEqual([
      'walls',
      3,
      'girth',
    ])
    expect(high.notCounted).toEqual([{ probeId: drilled.id, label: 'T1', why: 'borders-not-accepted' }])
    await inspector('POST', `/probes/${drilled.id}/borders`, {
      id: randomUUID(),
      barkCm: 1.6,
      segments: [sound, { fromCm: 17.2, toCm: 29, condition: 'void' }],
      moved: true,
      note: '',
    })
    const [, after] = await ask()
    expect([after.section.says, after.section.readings.length, after.notCounted]).toEqual(['range', 4, []])
    expect(after.section.share.p05).toBeLessThan(after.section.share.p95)
    const [mixed] = await ask(`?probes=${cores[0].id},${cores[3].id}`)
    expect([mixed.section, mixed.refusals.map((one: { code: string }) => one.code)]).toEqual([
      null,
      ['heights-mixed'],
    ])
    expect(said(await officer('GET', `/trees/${treeId}/sections?probes=${randomUUID()}`))).toBe(
      '404 unknown probes',
    )
  })

  it('shows the photos of a reading among those of its tree', async () => {
    const bored = probe('core', core)
    const photo = (ownerId: string) => {
      const form = new FormData()
      form.set('file', new File([Buffer.from('89504e470d0a1a0a00', 'hex')], 'core.png'))
      const meta = {
        id: randomUUID(),
        ownerKind: 'probe',
        ownerId,
        caption: 'C1',
        takenAt: null,
        position: null,
      }
      form.set('meta', JSON.stringify(meta))
      return inspector('POST', '/photos', form)
    }
    expect(said(await photo(bored.id))).toBe('404 unknown ownerId')
    await keep(bored)
    expect((await photo(bored.id)).status).toBe(200)
    expect((await officer('GET', `/trees/${treeId}`)).body.photos).toMatchObject([
      { ownerKind: 'probe', ownerId: bored.id, caption: 'C1' },
    ])
  })

  it('stands in the list of routes', async () => {
    const page = (await officer('GET', '/docs')).body
    for (const path of ['/probes', '/trees/{id}/probes', '/probes/{id}/borders', '/probes/{id}/trace.csv'])
      expect(page).toContain(`<code>/api${path}</code>`)
    const { paths } = (await officer('GET', '/openapi.json')).body
    expect(paths['/probes'].post.summary).toMatch(/reading into wood/)
  })
})
