import { gzipSync } from 'node:zlib'
import { tables } from '@underbough/db'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { treeExample } from '../testing/bodies.ts'
import { lampGreen, ringAt } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const said = (answer: { status: number; body: { refusals: { code: string; path: string }[] } }) =>
  `${answer.status} ${answer.body.refusals[0]?.code} ${answer.body.refusals[0]?.path}`

const hour = (i: number) => new Date(Date.UTC(2025, 0, 1, i)).toISOString().slice(0, 16).replace('T', ' ')
/** Thirty days of hours at a harbour mast: a westerly gust at noon, an easterly one of half its strength at midnight. */
const rows = Array.from({ length: 720 }, (_, i) =>
  i % 24 === 12 ? `${hour(i)};271;20` : i % 24 === 0 ? `${hour(i)};91;10` : `${hour(i)};;NA`,
)
const csv = (lines: string[]) => ['time;wind dir;gust m/s', ...lines].join('\n')

describe.each(databases)('wind files, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let siteId: string
  let treeId: string
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    const corners: [number, number][] = [
      [0, 0],
      [300, 0],
      [300, 200],
      [0, 200],
    ]
    const outline = { type: 'Polygon', coordinates: [ringAt(lampGreen, corners)] }
    const site = { name: 'Lamp Green', outline, timeZone: null, windRose: null, detourFactor: 1.3 }
    siteId = (await officer('POST', '/sites', site)).body.id
    treeId = (await officer('POST', '/trees', treeExample({ siteId }))).body.id
    await harness.deps.jobs.idle()
  })
  afterAll(() => harness?.close())

  const request = {
    mapping: {
      time: { kind: 'one', column: 'time' },
      timeZone: 'UTC',
      dayFirst: true,
      gust: 'gust m/s',
      direction: 'wind dir',
      mean: null,
      unit: 'mps',
      zeroIsNorth: false,
      decimalComma: false,
      station: null,
    },
    station: 'Harbour mast',
    distanceKm: 1.2,
    averagingSeconds: 3,
    threshold: { kind: 'from', gustMps: 15 },
  }
  const send = (path: string, file: string | Uint8Array, asked?: object) => {
    const form = new FormData()
    form.set('file', new File([file as BlobPart], 'mast.csv'))
    if (asked) form.set('request', JSON.stringify(asked))
    return officer('POST', `/sites/${siteId}${path}`, form)
  }
  const stored = async () => {
    const { db } = harness.deps.database
    return [await db.$count(tables.windFile), await db.$count(tables.gust)]
  }

  it('looks into a file, packed or not, and says how it might be read', async () => {
    for (const file of [csv(rows), gzipSync(csv(rows))]) {
      const { body } = await send('/wind/look', file)
      expect(body).toMatchObject({
        rows: 720,
        stations: [],
        mapping: { ...request.mapping, timeZone: null, time: { kind: 'one', column: 'time' } },
      })
    }
    expect(await stored()).toEqual([0, 0])
  })

  it('refuses a bad file or a bad request with its reason, and keeps nothing of it', async () => {
    const mapping = { ...request.mapping, gust: 'gale' }
    expect(said(await send('/wind', csv(rows), { ...request, mapping }))).toBe(
      '400 column-missing mapping.gust',
    )
    expect(said(await send('/wind', csv(rows), { ...request, distanceKm: -1 }))).toBe(
      '400 out-of-range distanceKm',
    )
    expect(said(await send('/wind', csv([]), request))).toBe('400 file-header-only ')
    expect(said(await send('/wind', csv(rows.map((row) => row.replace(/2025/g, 'May'))), request))).toBe(
      '400 hour-unreadable mapping.time',
    )
    expect(said(await send('/wind', csv(rows.map((row) => row.replace(/;\d+$/, ';NA'))), request))).toBe(
      '400 gusts-none mapping.gust',
    )
    expect(said(await send('/wind', gzipSync(csv(rows)).subarray(0, 900), request))).toBe(
      '400 file-not-this-format file',
    )
    expect(said(await send('/wind/look', ''))).toBe('400 file-empty ')
    const client = await harness.as('client')
    expect((await client('POST', `/sites/${siteId}/wind/look`, new FormData())).status).toBe(403)
    expect(await stored()).toEqual([0, 0])
  })

  it('keeps history and rose, and leaves the site its own rose until somebody accepts', async () => {
    const lines = [...rows.slice(0, 700), rows[699]!, `${hour(700)};271;468`, ...rows.slice(703)]
    const { body: file } = await send('/wind', csv(lines), request)
    expect(file.summary).toMatchObject({
      rows: 719,
      hours: 718,
      hoursWithGust: 60,
      setAside: 1,
      repeated: 1,
      gaps: 1,
      hoursMissing: 2,
      strongHours: 30,
      strongDays: 30,
      strongestMps: 20,
    })
    // A westerly is the thirteenth of sixteen directions, clockwise from north.
    expect(file.rose.indexOf(1)).toBe(12)
    expect(file.summary.notes.map((n: { code: string }) => n.code)).toEqual([
      'wind-fault',
      'hours-missing',
      'hour-repeated',
    ])
    const { files, days } = (await officer('GET', `/sites/${siteId}/wind`)).body
    expect(files).toEqual([file])
    expect(days).toHaveLength(30)
    expect(days[0]).toEqual({
      on: '2025-01-01',
      gustMps: 20,
      fromDeg: 271,
      at: '2025-01-01T12:00:00Z',
      station: 'Harbour mast',
    })
    expect((await officer('GET', '/sites')).body.sites[0].windRose).toBeNull()
  })

  it('gives the site the rose once it is accepted, keeps the old one on record, and computes the trees anew', async () => {
    const [file] = (await officer('GET', `/sites/${siteId}/wind`)).body.files
    const late = await officer('POST', `/wind-files/${file.id}/accept`, { version: 9 })
    expect(said(late)).toBe('409 conflict version')
    const accepted = await officer('POST', `/wind-files/${file.id}/accept`, { version: 1 })
    expect(accepted.body.site).toMatchObject({ windRose: file.rose, version: 2 })
    await harness.deps.jobs.idle()
    const job = await officer('GET', `/jobs/${accepted.body.jobId}`)
    expect([job.body.kind, job.body.state]).toEqual(['exposure', 'done'])
    const [kept] = (await officer('GET', `/sites/${siteId}/wind`)).body.files
    expect(kept).toMatchObject({ acceptedBy: 'The officer', replaced: null })
    // Wind from the west lets the tree fall east: the likeliest bearing of 72 is the nineteenth, 90 degrees.
    const { exposure } = (await officer('GET', `/trees/${treeId}/exposure`)).body
    expect(exposure.density.indexOf(Math.max(...exposure.density))).toBe(18)
  })

  it('computes the trees of a site anew when its rose is changed by hand, and not for another change', async () => {
    const { id, version, createdAt, updatedAt, ...site } = (await officer('GET', '/sites')).body.sites[0]
    const jobs = () => harness.deps.database.db.$count(tables.job)
    const before = await jobs()
    await officer('PUT', `/sites/${id}`, { ...site, name: 'Green', version })
    expect(await jobs()).toBe(before)
    const windRose = Array.from({ length: 16 }, () => 1 / 16)
    await officer('PUT', `/sites/${id}`, { ...site, windRose, version: version + 1 })
    expect(await jobs()).toBe(before + 1)
    await harness.deps.jobs.idle()
  })

  it('takes ten years of hours, and puts a station’s day in the place of the one it gave before', async () => {
    const years = Array.from({ length: 87_660 }, (_, i) => `${hour(i)};${(i * 10) % 360};${5 + (i % 20)}`)
    const began = Date.now()
    const { body: file } = await send('/wind', csv(years), request)
    expect(Date.now() - began).toBeLessThan(20_000)
    expect(file.summary).toMatchObject({ hours: 87_660, gaps: 0, strongestMps: 24 })
    const { days, files } = (await officer('GET', `/sites/${siteId}/wind`)).body
    expect(files).toHaveLength(2)
    expect(days).toHaveLength(3653)
    expect(days[0].gustMps).toBe(24)
  })
})
