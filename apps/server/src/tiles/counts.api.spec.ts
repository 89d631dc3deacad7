import { VectorTile } from '@mapbox/vector-tile'
import { seededNumbers } from '@underbough/model'
import { sql } from 'drizzle-orm'
import { PbfReader } from 'pbf'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const read = (bytes: ArrayBuffer) => new VectorTile(new PbfReader(new Uint8Array(bytes))).layers
type Layer = NonNullable<ReturnType<typeof read>[string]>
const featuresOf = (layer: Layer | undefined) =>
  Array.from({ length: layer?.length ?? 0 }, (_, i) => layer!.feature(i).properties)

const DAY = '2026-11-25'
/** Trees spread thinly over the country, and as many again crowded into one square of 450 m. */
const [SPREAD, CROWD] = [1500, 4500]

/**
 * Each narrowing beside the plain condition on the records that it stands for. The day at the organisation is 25 November 2026
 * and at the far site, in another time zone, the 26th.
 */
const late = `s.due_on < case when t.site_id = (select id from site where time_zone is not null) then date '${DAY}' + 1 else date '${DAY}' end`
const narrowings: [query: string, condition: string][] = [
  ['', 'true'],
  ['risk=high,extreme', `s.risk in ('high', 'extreme')`],
  ['risk=unrated', 's.risk is null'],
  ['overdue=true', late],
  ['overdue=false', `not coalesce(${late}, false)`],
  ['seen=false', 'not coalesce(s.seen, false)'],
  // Weeks begin on Mondays: 23 November 2026 is one, as is 7 December.
  ['dueFrom=2026-11-23&dueUntil=2026-12-06', `s.due_on >= '2026-11-23' and s.due_on < '2026-12-07'`],
  ['dueUntil=2026-11-22&seen=true', `s.due_on < '2026-11-23' and s.seen`],
  ['dueFrom=2026-11-24&dueUntil=2026-12-01', `s.due_on between '2026-11-24' and '2026-12-01'`],
  ['risk=low,unrated&overdue=true', `(s.risk = 'low' or s.risk is null) and ${late}`],
  ['names=tilia', `t.species ilike 'tilia%'`],
  ['names=100%25', 'false'],
  ['names=Norway', `t.common_name = 'Norway maple'`],
  ['stemFromCm=40&stemUntilCm=60', 't.stem_diameter_cm between 40 and 60'],
  ['status=pole', `t.status = 'pole'`],
  ['over=play', `exists (select from exposure_zone e where e.tree_id = t.id)`],
]

describe.each(databases)('tiles, cells and list beside plain counts, on %s', (kind) => {
  let harness: Harness
  let ask: Ask
  const random = seededNumbers(20261125)
  const run = async <T>(text: string) =>
    [...(await harness.deps.database.db.execute(sql.raw(text)))] as unknown as T[]

  beforeAll(async () => {
    harness = await startHarness(kind)
    ask = await harness.as('officer')
    const { body: site } = await ask('POST', '/sites', {
      name: 'Far shore',
      outline: zoneExample().geometry,
      timeZone: 'Pacific/Auckland',
      windRose: null,
      detourFactor: 1.3,
    })
    await run(
      `
      insert into tree (organisation_id, id, tag, species, common_name, position, stems, stem_diameter_cm, status, site_id, entered_on)
      select '${harness.organisationId}', md5('count' || n)::uuid, 'N' || n,
        (array['Tilia cordata', 'Quercus robur', 'Acer platanoides'])[1 + n % 3], case when n % 3 = 2 then 'Norway maple' end,
        case when n < ${SPREAD} then ST_SetSRID(ST_Point(-9 + 2 * f(n, 1), -32.5 + 2 * f(n, 2)), 4326)
          else ST_SetSRID(ST_Point(-8.2445 + 0.004 * f(n, 1), -31.672 + 0.004 * f(n, 2)), 4326) end,
        '[]', case when n % 7 > 0 then 10 + n % 80 end, case when n % 29 = 0 then 'pole' when n % 31 = 0 then 'stump' else 'standing' end,
        case when n % 5 = 0 then '${site.id}'::uuid end, '2026-01-01'
      from generate_series(0, ${SPREAD + CROWD - 1}) n`.replace(/f\(n, (\d)\)/g, share('n', '$1')),
    )
    await run(`
      insert into tree_state (organisation_id, tree_id, risk, seen, due_on)
      select organisation_id, id, (array['low', 'moderate', 'high', 'extreme', null, null])[1 + n % 6], n % 6 < 4,
        case when n % 11 > 0 then date '${DAY}' - 40 + (120 * ${share('n', '3')})::int end
      from (select *, substr(tag, 2)::int as n from tree) numbered where n % 13 > 0`)
    const { body: zone } = await ask('POST', '/zones', zoneExample())
    await harness.deps.jobs.idle()
    const figures =
      'p_touch, p_touch_least, p_touch_most, people, people_least, people_most, people_stem, people_crown, p_any'
    await run(`
      insert into exposure_zone (organisation_id, tree_id, zone_id, touching, ${figures})
      select organisation_id, id, '${zone.id}', '{}', ${figures.replace(/\w+/g, '0')} from tree where substr(tag, 2)::int % 17 = 0`)
    await run('analyze')
  }, 300_000)
  afterAll(() => harness?.close())

  const tile = async (zoom: number, { x, y }: { x: number; y: number }, query: string) => {
    const answer = await ask('GET', `/tiles/trees/${zoom}/${x}/${y}.mvt${query && `?${query}`}`)
    expect(answer.status).toBe(200)
    return read(answer.body)
  }
  const from = 'tree t left join tree_state s on s.organisation_id = t.organisation_id and s.tree_id = t.id'
  /** Tiles of a zoom that hold trees, by the database's own projection library, each with its plain count. */
  const tilesOf = (zoom: number, condition: string) =>
    run<{ x: number; y: number; n: number }>(`
      select floor((ST_X(p) + 20037508.3427892) / side)::int as x, floor((20037508.3427892 - ST_Y(p)) / side)::int as y, count(*)::int as n
      from (select ST_Transform(t.position, 3857) as p, 40075016.6855784 / 2 ^ ${zoom} as side, ${condition} as passes from ${from}) placed
      where passes group by 1, 2 order by 1, 2`)

  it.each(narrowings)(
    'sums to the plain count below zoom 12: %s',
    async (query, condition) => {
      const stands = query.includes('status=') ? 'true' : `t.status in ('standing', 'pole')`
      for (const zoom of [0, 4, 6, 7, 8, 9, 10]) {
        const tiles = await tilesOf(zoom, `(${condition}) and ${stands}`)
        const sums = { count: 0, rated: 0 }
        for (const one of tiles) {
          const cells = featuresOf((await tile(zoom, one, query)).cells)
          const count = cells.reduce((sum, cell) => sum + Number(cell.count), 0)
          expect({ zoom, ...one, n: count }).toEqual({ zoom, ...one })
          sums.count += count
          for (const key of ['n0', 'n1', 'n2', 'n3', 'n4'])
            sums.rated += cells.reduce((sum, cell) => sum + Number(cell[key]), 0)
        }
        expect(sums.rated).toBe(sums.count)
      }
    },
    120_000,
  )

  it.each(narrowings)(
    'holds the same trees from zoom 12 on, and the list too: %s',
    async (query, condition) => {
      for (const zoom of [12, 13, 14, 15, 16, 17]) {
        const tiles = (await tilesOf(zoom, condition)).filter((one) => one.n < 4000)
        const some = tiles.filter(() => random() < 8 / tiles.length)
        for (const one of some) {
          const all = (await tilesOf(zoom, 'true')).find(({ x, y }) => x === one.x && y === one.y)!
          if (all.n > 4000) continue
          const layers = await tile(zoom, one, query)
          expect({ zoom, ...one, n: featuresOf(layers.trees).length }).toEqual({ zoom, ...one })
          expect(featuresOf(layers.others).length).toBe(query ? all.n - one.n : 0)
        }
      }
      const [plain] = await run<{ n: number }>(`select count(*)::int as n from ${from} where ${condition}`)
      const list = await ask('GET', `/trees?limit=1${query && `&${query}`}`)
      expect(list.body.total).toBe(plain!.n)
    },
    120_000,
  )

  it.each(narrowings.slice(0, 7))(
    'shows the worst tree of each square where trees are crowded: %s',
    async (query, condition) => {
      for (const zoom of [12, 14, 15]) {
        const crowded = (await tilesOf(zoom, 'true')).find((one) => one.n > 4000)!
        // 32 squares along a tile: five zooms more.
        const worst = await run<{ id: string }>(`
        select distinct on (x, y) id from (
          select t.id, floor((ST_X(p) + 20037508.3427892) / side)::int as x, floor((20037508.3427892 - ST_Y(p)) / side)::int as y,
            t.status in ('standing', 'pole') as stands, coalesce(array_position(array['low', 'moderate', 'high', 'extreme'], s.risk), 0) as risk, s.due_on, (${condition}) as passes
          from ${from}, lateral (select ST_Transform(t.position, 3857) as p, 40075016.6855784 / 2 ^ ${zoom + 5} as side) placed
        ) m where passes and x / 32 = ${crowded.x} and y / 32 = ${crowded.y}
        order by x, y, stands desc, risk desc, due_on nulls last, id`)
        const shown = featuresOf((await tile(zoom, crowded, query)).trees)
        expect(shown.map((tree) => tree.id).sort()).toEqual(worst.map((tree) => tree.id).sort())
        expect(shown.every((tree) => tree.thin === 1)).toBe(true)
      }
    },
    120_000,
  )

  it('refuses a narrowing that it cannot read, and says where', async () => {
    for (const [query, path] of [
      ['risk=hgih', 'risk.0'],
      ['overdue=maybe', 'overdue'],
      ['dueFrom=soon', 'dueFrom'],
      ['stemFromCm=-3', 'stemFromCm'],
      ['siteId=here', 'siteId'],
      ['over=pond', 'over.0'],
      ['risc=high', ''],
    ]) {
      const answer = await ask('GET', `/tiles/trees/8/122/151.mvt?${query}`)
      expect([query, answer.status, answer.body.refusals?.[0].path]).toEqual([query, 400, path])
      expect(['malformed', 'out-of-range']).toContain(answer.body.refusals[0].code)
    }
  })
})

/** A share from 0 to below 1 that depends on a number alone, in SQL. */
function share(number: string, salt: string) {
  return `((('x' || substr(md5(${number} || '/${salt}'), 1, 7))::bit(28)::int) / 268435456.0)`
}
