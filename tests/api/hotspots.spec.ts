import { booleanClockwise, booleanPointInPolygon, booleanValid } from '@turf/turf'
import { tables } from '@underbough/db'
import { planeAt, type RiskWord } from '@underbough/model'
import { csvParse } from 'd3-dsv'
import { and, eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cellBounds } from '../../apps/server/src/hotspots/cells.ts'
import { lampGreen, point, storeTree, zoneExample } from '../../apps/server/src/testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../../apps/server/src/testing/harness.ts'

interface Row {
  id: string
  zone: { name: string; place: [number, number] }
  place: [number, number]
  people: { mean: number; least: number; most: number }
  sumModerate: number
  trees: number
  treesModerate: number
  rank: number
  change: string | null
  before: { people: { mean: number } } | null
  worst: { tag: string; overdueDays: number }[]
  cell: { x: number; y: number; ring: [number, number][] } | null
}

describe.each(databases)('hotspots, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let today = new Date('2026-11-25T12:00:00Z')
  beforeAll(async () => {
    harness = await startHarness(kind)
    harness.deps.now = () => today
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  const zoneIds: Record<string, string> = {}
  const treeIds: Record<string, string> = {}
  const figures = (people: number) => ({
    pTouch: 0.5,
    pTouchLeast: 0,
    pTouchMost: 1,
    people,
    peopleLeast: people / 2,
    peopleMost: people * 2,
    peopleStem: 0,
    peopleCrown: people,
    peopleScatter: 0,
    pAny: 0.1,
    pAnyLeast: 0,
    pAnyMost: 0.2,
  })
  const hang = async (
    zone: string,
    tag: string,
    risk: RiskWord | null,
    people: number,
    status = 'standing' as 'standing' | 'gone',
  ) => {
    const { organisationId, deps } = harness
    const treeId = await storeTree(
      deps.database,
      organisationId,
      { tag, status, position: point(lampGreen) },
      { risk, dueOn: '2026-11-20' },
    )
    treeIds[tag] = treeId
    const of = { organisationId, treeId }
    await deps.database.db
      .insert(tables.exposureZone)
      .values({ ...of, zoneId: zoneIds[zone]!, ...figures(people), touching: [] })
    await deps.database.db.insert(tables.exposure).values({
      ...of,
      reachM: 10,
      ...figures(people),
      inputsDigest: '00000000-0000-4000-8000-000000000000',
      methodVersion: 'exposure 9',
      computedAt: '2026-11-25T09:00:00Z',
    })
  }
  const list = async (query = '') => (await officer('GET', `/hotspots${query}`)).body
  const short = (spots: Row[]) => spots.map(({ rank, zone }) => [rank, zone.name])

  it('ranks zones by the tree that bears most, by the sum over rated trees, and by the ratings', async () => {
    expect(await list()).toMatchObject({ spots: [], total: 0, computedAt: null, comparable: false })
    // A drawn zone has its trees reckoned; figures put in by hand come after that.
    for (const name of ['Lamp Green', 'Kirk Walk', 'Harbour Road', 'Mill Bench'])
      zoneIds[name] = (await officer('POST', '/zones', zoneExample({ name }))).body.id
    await harness.deps.jobs.idle()
    await hang('Kirk Walk', 'W1', 'moderate', 0.25)
    await hang('Kirk Walk', 'W2', 'extreme', 0.5)
    await hang('Kirk Walk', 'W3', 'low', 2)
    await hang('Kirk Walk', 'W4', null, 0.9)
    await hang('Lamp Green', 'G1', 'high', 1)
    await hang('Lamp Green', 'G2', 'extreme', 9, 'gone')
    await hang('Harbour Road', 'R1', null, 5)
    await harness.deps.jobs.idle()

    const one = await list()
    expect(short(one.spots)).toEqual([
      [1, 'Harbour Road'],
      [2, 'Kirk Walk'],
      [3, 'Lamp Green'],
    ])
    expect([one.total, one.computedAt, one.methodVersion]).toEqual([
      3,
      '2026-11-25T09:00:00.000Z',
      'exposure 9',
    ])
    const walk = one.spots[1] as Row
    expect(walk.people).toEqual({ mean: 2, least: 1, most: 4 })
    expect([walk.trees, walk.treesModerate, walk.sumModerate]).toEqual([4, 2, 0.75])
    expect(walk.worst.map((t) => [t.tag, t.overdueDays])).toEqual([
      ['W3', 5],
      ['W4', 5],
      ['W2', 5],
    ])
    // The example zone is a rectangle of 20 by 10 m from this corner on; the place lies within it.
    const [east, north] = planeAt(...lampGreen).toMetres(...walk.place)
    expect(east > 0 && east < 20 && north > 0 && north < 10, `${east}, ${north}`).toBe(true)

    expect(short((await list('?basis=rated')).spots)).toEqual([
      [1, 'Lamp Green'],
      [2, 'Kirk Walk'],
    ])
    const rated = await list('?basis=rating')
    expect(short(rated.spots)).toEqual([
      [1, 'Kirk Walk'],
      [2, 'Lamp Green'],
    ])
    expect(rated.spots[0].worst.map((t: { tag: string }) => t.tag)).toEqual(['W2', 'W1', 'W3'])
  })

  it('narrows by kind, place and number, and refuses what it cannot read', async () => {
    expect((await list('?limit=1&offset=1')).spots.map((s: Row) => s.rank)).toEqual([2])
    expect((await list('?kinds=building')).total).toBe(0)
    expect((await list('?bbox=1,1,2,2')).total).toBe(0)
    const [lon, lat] = lampGreen
    expect((await list(`?bbox=${lon - 0.01},${lat - 0.01},${lon + 0.01},${lat + 0.01}`)).total).toBe(3)
    for (const [query, path] of [
      ['kinds=castle', 'kinds'],
      ['basis=luck', 'basis'],
      ['bbox=1,2,3', 'bbox'],
      ['limit=0', 'limit'],
    ] as const) {
      const answer = await officer('GET', `/hotspots?${query}`)
      expect([answer.status, answer.body.refusals[0].path.split('.')[0]], query).toEqual([400, path])
    }
  })

  it('counts each tree in the cell that its foot stands in', async () => {
    const { spots, total } = await list('?of=cells')
    expect(total).toBe(1)
    const [cell] = spots as Row[]
    // All six standing trees share one foot; W3 to R1 bear at most 5 people.
    expect([cell!.trees, cell!.people.mean, cell!.sumModerate]).toEqual([6, 5, 1.75])
    const [w, s, e, n] = cellBounds(cell!.cell!)
    expect(lampGreen[0] >= w && lampGreen[0] < e && lampGreen[1] > s && lampGreen[1] <= n).toBe(true)
    expect(booleanClockwise(cell!.cell!.ring)).toBe(false)
    const [lon, lat] = lampGreen
    const about = (d: number) => `${lon + d - 1e-4},${lat + d - 1e-4},${lon + d + 1e-4},${lat + d + 1e-4}`
    expect((await list(`?of=cells&bbox=${about(0)}`)).total).toBe(1)
    expect((await list(`?of=cells&bbox=${about(0.01)}`)).total).toBe(0)
    const trees = (await officer('GET', `/hotspots/trees?spot=${cell!.id}`)).body.trees
    expect(trees.map((t: { tag: string }) => t.tag)).toEqual(['R1', 'W3', 'G1', 'W4', 'W2', 'W1'])
  })

  it('follows a new rating, a tree that is gone and new figures at once', async () => {
    const { db } = harness.deps.database
    const { treeState, tree, exposureZone } = tables
    const mine = eq(tree.organisationId, harness.organisationId)
    await db.update(treeState).set({ risk: 'high' }).where(eq(treeState.treeId, treeIds.R1!))
    expect(short((await list('?basis=rated')).spots)[0]).toEqual([1, 'Harbour Road'])
    await db
      .update(tree)
      .set({ status: 'gone' })
      .where(and(mine, eq(tree.id, treeIds.R1!)))
    expect(short((await list()).spots)).toEqual([
      [1, 'Kirk Walk'],
      [2, 'Lamp Green'],
    ])
    await db.update(exposureZone).set({ people: 7 }).where(eq(exposureZone.treeId, treeIds.G1!))
    expect(short((await list()).spots)[0]).toEqual([1, 'Lamp Green'])
    await db
      .update(tree)
      .set({ status: 'standing' })
      .where(and(mine, eq(tree.id, treeIds.R1!)))
    expect((await list()).total).toBe(3)
  })

  it('says what moved since the last month ended: new, up, down, the same and gone, with the numbers', async () => {
    const { db } = harness.deps.database
    const { exposureZone } = tables
    await list()
    today = new Date('2026-12-02T12:00:00Z')
    const quiet = await list()
    expect(quiet.comparable).toBe(true)
    expect(quiet.spots.map((s: Row) => s.change)).toEqual(['same', 'same', 'same'])
    await db.update(exposureZone).set({ people: 8 }).where(eq(exposureZone.treeId, treeIds.G1!))
    await db.update(exposureZone).set({ people: 0.5 }).where(eq(exposureZone.treeId, treeIds.W3!))
    await db.delete(exposureZone).where(eq(exposureZone.treeId, treeIds.R1!))
    await hang('Mill Bench', 'M1', null, 0.1)
    const { spots, gone } = await list()
    expect(spots.map((s: Row) => [s.zone.name, s.change, s.before?.people.mean ?? null])).toEqual([
      ['Lamp Green', 'up', 7],
      ['Kirk Walk', 'down', 2],
      ['Mill Bench', 'new', null],
    ])
    expect(
      gone.map((g: { name: string; before: { people: { mean: number } } }) => [g.name, g.before.people.mean]),
    ).toEqual([['Harbour Road', 5]])
  })

  it('is written as CSV that another reader reads back, formulas guarded', async () => {
    const hostile = '=HYPERLINK("http://x")'
    await harness.deps.database.db
      .update(tables.zone)
      .set({ name: hostile })
      .where(eq(tables.zone.id, zoneIds['Mill Bench']!))
    const answer = await officer('GET', '/hotspots/file?as=csv')
    expect(answer.headers.get('content-type')).toMatch(/^text\/csv/)
    expect(answer.headers.get('content-disposition')).toBe(
      'attachment; filename="hotspots-zones-2026-12-02.csv"',
    )
    const text = answer.body as string
    // RFC 4180: lines end in CRLF, and no bare line feed stands outside quotes.
    expect(text.endsWith('\r\n') && !/[^\r]\n/.test(text)).toBe(true)
    // d3-dsv (general-purpose reader of RFC 4180) against what the list itself answers.
    const rows = csvParse(text)
    const { spots } = await list()
    expect(rows.map((r) => [Number(r.rank), r.id, Number(r.worstTreeMeanPeople), r.sinceLastMonth])).toEqual(
      spots.map((s: Row) => [s.rank, s.id, Number(s.people.mean.toPrecision(6)), s.change]),
    )
    expect(rows.map((r) => r.name)).toEqual(['Lamp Green', 'Kirk Walk', `'${hostile}`])
    for (const row of rows) {
      expect([row.methodVersion, row.listedOn, row.meaning?.slice(0, 27)]).toEqual([
        'exposure 9',
        '2026-12-02',
        'Given that the tree fails; ',
      ])
      expect(Object.values(row).every((cell) => !/^[=+@\t\r]/.test(cell))).toBe(true)
    }
  })

  it.each(['zones', 'cells'])('is written as GeoJSON that keeps to RFC 7946: %s', async (of) => {
    const answer = await officer('GET', `/hotspots/file?as=geojson&of=${of}`)
    expect(answer.headers.get('content-type')).toMatch(/^application\/geo\+json/)
    const file = JSON.parse(
      typeof answer.body === 'string'
        ? answer.body
        : answer.body instanceof ArrayBuffer
          ? new TextDecoder().decode(answer.body)
          : JSON.stringify(answer.body),
    )
    const { spots } = await list(`?of=${of}`)
    expect(file.type).toBe('FeatureCollection')
    // 4: no coordinate reference system but WGS84, so no member for one.
    expect('crs' in file).toBe(false)
    expect(file.features.length).toBe(spots.length)
    file.features.forEach((feature: GeoJSON.Feature<GeoJSON.Polygon>, i: number) => {
      expect([feature.type, feature.id, feature.properties?.rank]).toEqual(['Feature', spots[i].id, i + 1])
      // 3.1.6: four or more positions, closed, outer rings counter-clockwise (Turf).
      const [outer] = feature.geometry.coordinates as [GeoJSON.Position[]]
      expect(outer.length).toBeGreaterThanOrEqual(4)
      expect(outer[0]).toEqual(outer.at(-1))
      expect(booleanClockwise(outer)).toBe(false)
      expect(booleanValid(feature)).toBe(true)
      // 3.1.1: longitude first, both within the world; the list's own place lies inside.
      for (const [lon, lat] of outer) expect(Math.abs(lon!) <= 180 && Math.abs(lat!) <= 90).toBe(true)
      expect(booleanPointInPolygon(spots[i].place, feature)).toBe(true)
    })
    expect(file.about).toMatchObject({ listedOn: '2026-12-02', methodVersion: 'exposure 9' })
  })

  it('gives what a changed zone is reckoned from: its trees, the nearest first', async () => {
    const { body } = await officer('GET', `/zones/${zoneIds['Kirk Walk']}/surroundings?carriedM=10`)
    expect(body.zone.name).toBe('Kirk Walk')
    // G2 is gone and falls no more.
    expect(body.trees.map((t: { tag: string }) => t.tag).sort()).toEqual(
      ['G1', 'M1', 'R1', 'W1', 'W2', 'W3', 'W4'].sort(),
    )
    expect([body.cut, body.zones]).toEqual([false, []])
    expect((await officer('GET', `/zones/${zoneIds['Kirk Walk']}/surroundings?carriedM=900`)).status).toBe(
      400,
    )
    const [row] = await harness.deps.database.db.execute<{ n: number }>(
      sql`select count(*)::int as n from work`,
    )
    expect(row!.n).toBe(0)
  })
})
