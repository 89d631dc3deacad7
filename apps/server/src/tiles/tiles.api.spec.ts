import { VectorTile } from '@mapbox/vector-tile'
import { dayNumber, type Position } from '@underbough/model'
import { sql } from 'drizzle-orm'
import { PbfReader } from 'pbf'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, point, ringAt, storeTree, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const read = (bytes: ArrayBuffer) => new VectorTile(new PbfReader(new Uint8Array(bytes))).layers
type Layer = NonNullable<ReturnType<typeof read>[string]>
const features = (layer: Layer | undefined) =>
  Array.from({ length: layer?.length ?? 0 }, (_, i) => layer!.feature(i))
/** Half the length of the equator in the web's square projection, metres: OGC Two Dimensional Tile Matrix Set (17-083r4), annex D.1, WebMercatorQuad. */
const HALF_M = 20037508.3427892

/** Positions in the square projection by the database's own projection library, in units of the whole map at a zoom. */
async function mapUnits({ deps }: Harness, zoom: number, positions: Position[]): Promise<[number, number][]> {
  const rows = await deps.database.db.execute<{ x: number; y: number }>(sql`
    select ST_X(p) as x, ST_Y(p) as y from (
      select ord, ST_Transform(ST_SetSRID(ST_Point((v->>0)::float8, (v->>1)::float8), 4326), 3857) as p
      from jsonb_array_elements(${JSON.stringify(positions)}::jsonb) with ordinality as given(v, ord)) t order by ord`)
  const scale = (2 ** zoom * 4096) / (2 * HALF_M)
  return [...rows].map(({ x, y }) => [(x + HALF_M) * scale, (HALF_M - y) * scale])
}

describe.each(databases)('tiles, on %s', (kind) => {
  let harness: Harness
  let ask: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    ask = await harness.as('client')
  })
  afterAll(() => harness?.close())

  const tileOver = async (zoom: number, position: Position) => {
    const [[x, y]] = (await mapUnits(harness, zoom, [position])) as [[number, number]]
    return { x: Math.floor(x / 4096), y: Math.floor(y / 4096) }
  }
  const layersOf = async (what: 'trees' | 'ground', zoom: number, position: Position) => {
    const { x, y } = await tileOver(zoom, position)
    const answer = await ask('GET', `/tiles/${what}/${zoom}/${x}/${y}.mvt`)
    expect(answer.status).toBe(200)
    return { layers: read(answer.body), x, y, answer }
  }

  it('opens on the world while there is nothing', async () => {
    expect((await ask('GET', '/map/view')).body).toMatchObject({ bounds: [-180, -60, 180, 75], sites: [] })
    const { layers } = await layersOf('trees', 16, lampGreen)
    expect(Object.keys(layers)).toEqual([])
  })

  it('puts each tree where the projection library puts it, with its mark', async () => {
    const places: Position[] = [lampGreen, [-8.2493, -31.6694], [-8.2481, -31.6699]]
    const states = [
      { risk: 'extreme', seen: true, dueOn: '2026-11-24' },
      { risk: null, seen: false, dueOn: null },
      { risk: 'low', seen: true, ratingOpen: true, dueOn: '2026-11-25' },
    ] as const
    const { database } = harness.deps
    const ids: string[] = []
    for (const [i, place] of places.entries())
      ids.push(
        await storeTree(
          database,
          harness.organisationId,
          { tag: `LG-${i}`, position: point(place) },
          states[i],
        ),
      )

    for (const zoom of [12, 16, 18]) {
      const units = await mapUnits(harness, zoom, places)
      for (const [i, place] of places.entries()) {
        const { layers, x, y } = await layersOf('trees', zoom, place)
        const found = features(layers.trees).find((f) => f.properties.id === ids[i])!
        const [at] = found.loadGeometry()[0]!
        expect(at!.x).toBe(Math.floor(units[i]![0] - x * 4096))
        expect(at!.y).toBe(Math.floor(units[i]![1] - y * 4096))
      }
    }
    const { layers } = await layersOf('trees', 14, lampGreen)
    const byTag = Object.fromEntries(features(layers.trees).map((f) => [f.properties.tag, f.properties]))
    const common = { status: 'standing', open: 0 }
    // 24 November 2026 is a Tuesday; its Monday is the 23rd.
    const monday = dayNumber('2026-11-23')
    expect(byTag).toEqual({
      'LG-0': {
        ...common,
        id: ids[0],
        tag: 'LG-0',
        risk: 4,
        overdue: 1,
        seen: 1,
        due: dayNumber('2026-11-24'),
        week: monday,
      },
      'LG-1': { ...common, id: ids[1], tag: 'LG-1', risk: 0, overdue: 0, seen: 0 },
      'LG-2': {
        ...common,
        id: ids[2],
        tag: 'LG-2',
        risk: 1,
        overdue: 0,
        seen: 1,
        open: 1,
        due: dayNumber('2026-11-25'),
        week: monday,
      },
    })
  })

  it('calls a tree overdue from the midnight of its own site', async () => {
    const officer = await harness.as('officer')
    const { body: site } = await officer('POST', '/sites', {
      name: 'Far shore',
      outline: zoneExample().geometry,
      timeZone: 'Pacific/Auckland',
      windRose: null,
      detourFactor: 1.3,
    })
    const place: Position = [-8.3, -31.7]
    const { database } = harness.deps
    // At noon of the 25th in Greenwich it is the 26th in Auckland.
    for (const [tag, siteId] of [
      ['here', null],
      ['there', site.id],
    ] as const)
      await storeTree(
        database,
        harness.organisationId,
        { tag, siteId, position: point(place) },
        { dueOn: '2026-11-25' },
      )
    const { layers } = await layersOf('trees', 16, place)
    const overdue = Object.fromEntries(
      features(layers.trees).map((f) => [f.properties.tag, f.properties.overdue]),
    )
    expect(overdue).toEqual({ here: 0, there: 1 })
  })

  it('cuts areas to the tile, keeps holes, and turns outlines as the format asks', async () => {
    const officer = await harness.as('officer')
    const outline = ringAt(lampGreen, [
      [0, 0],
      [400, 0],
      [400, 300],
      [0, 300],
    ])
    const hole = ringAt(lampGreen, [
      [50, 50],
      [90, 50],
      [90, 90],
      [50, 90],
    ])
    const geometry = { type: 'Polygon', coordinates: [outline, hole] } as const
    const { body: zone } = await officer(
      'POST',
      '/zones',
      zoneExample({ name: 'Lamp Green', geometry: geometry as never }),
    )
    await officer('POST', '/ground-features', {
      siteId: null,
      kind: 'path',
      name: 'Kirk Walk',
      geometry: { type: 'LineString', coordinates: [lampGreen, outline[2]] },
    })
    for (const zoom of [14, 17, 19]) {
      const { layers, x, y } = await layersOf('ground', zoom, hole[0]!)
      const found = features(layers.zones).find((f) => f.properties.id === zone.id)!
      expect(found.properties).toEqual({ id: zone.id, name: 'Lamp Green', kind: 'play' })
      const rings = found.loadGeometry()
      const areas = rings.map(
        (ring) =>
          ring.reduce(
            (sum, p, i) => sum + p.x * ring[(i + 1) % ring.length]!.y - ring[(i + 1) % ring.length]!.x * p.y,
            0,
          ) / 2,
      )
      // On the last tile the hole reaches over the edge, so that it is a notch.
      expect(areas.map(Math.sign)).toEqual(zoom < 19 ? [1, -1] : [1])
      for (const p of rings.flat())
        expect(Math.max(Math.abs(p.x - 2048), Math.abs(p.y - 2048))).toBeLessThanOrEqual(2048 + 129)
      const unitM = (2 * HALF_M) / (2 ** zoom * 4096)
      const [row] = await harness.deps.database.db.execute<{ area: number }>(sql`
        select ST_Area(ST_Intersection(ST_Transform(ST_SetSRID(ST_GeomFromGeoJSON(${JSON.stringify(geometry)}), 4326), 3857),
          ST_Expand(ST_TileEnvelope(${zoom}::int, ${x}::int, ${y}::int), ${128 * unitM}))) as area`)
      const area = areas.reduce((a, b) => a + b, 0) * unitM ** 2
      expect(Math.abs(area / row!.area - 1)).toBeLessThan(0.01)
    }
    const { layers } = await layersOf('ground', 16, lampGreen)
    expect(features(layers.ground).map((f) => [f.type, f.properties.kind, f.properties.name])).toEqual([
      [2, 'path', 'Kirk Walk'],
    ])
  })

  it('answers 304 until something on the map changes', async () => {
    const { answer, x, y } = await layersOf('trees', 16, lampGreen)
    const etag = answer.headers.get('etag')!
    const { createApp } = await import('../app.ts')
    const login = await harness.stranger('POST', '/session', {
      email: 'client@portmaud.example',
      password: 'a long enough word',
    })
    const cookie = login.headers.getSetCookie()[0]!.split(';')[0]!
    const again = () =>
      createApp(harness.deps).request(`/api/tiles/trees/16/${x}/${y}.mvt`, {
        headers: { cookie, 'if-none-match': etag },
      })
    expect((await again()).status).toBe(304)
    const before = (await ask('GET', '/tiles/version')).body
    const officer = await harness.as('officer')
    await officer('PUT', `/sites/${(await ask('GET', '/sites')).body.sites[0].id}`, {
      ...(await ask('GET', '/sites')).body.sites[0],
      timeZone: null,
    })
    expect((await again()).status).toBe(200)
    const after = (await ask('GET', '/tiles/version')).body
    expect(after.trees).not.toBe(before.trees)
    expect(after.ground).toBe(before.ground)
  })

  it('thins crowded tiles to the worst of each small cell, and counts by cell below zoom 12', async () => {
    const place: Position = [20.005, 40.005]
    const { database } = harness.deps
    await database.db.execute(sql`
      insert into tree (organisation_id, id, tag, species, position, stems, entered_on)
      select ${harness.organisationId}, gen_random_uuid(), 'C' || n, 'Tilia', ST_SetSRID(ST_Point(20 + 0.0001 * (n % 80), 40 + 0.0001 * (n / 80)), 4326), '[]', '2026-01-01'
      from generate_series(0, 6399) n`)
    await database.db.execute(sql`
      insert into tree_state (organisation_id, tree_id, risk, due_on)
      select organisation_id, id, case when tag = 'C3210' then 'extreme' else 'low' end, '2026-01-01' from tree where tag like 'C%'`)
    const thin = features((await layersOf('trees', 13, place)).layers.trees)
    expect(thin.length).toBeGreaterThan(20)
    expect(thin.length).toBeLessThan(1024)
    expect(thin.filter((f) => f.properties.risk === 4).map((f) => f.properties.tag)).toEqual(['C3210'])
    expect(features((await layersOf('trees', 15, place)).layers.trees).length).toBeGreaterThan(thin.length)

    const cells = features((await layersOf('trees', 8, place)).layers.cells)
    const sum = (key: string) => cells.reduce((total, f) => total + Number(f.properties[key]), 0)
    expect(['count', 'n0', 'n1', 'n2', 'n3', 'n4', 'overdue'].map(sum)).toEqual([
      6400, 0, 6399, 0, 0, 1, 6400,
    ])
  })

  it('refuses a tile that does not exist', async () => {
    expect((await ask('GET', '/tiles/trees/3/8/0.mvt')).body.refusals[0].code).toBe('out-of-range')
    expect((await ask('GET', '/tiles/trees/23/0/0.mvt')).status).toBe(400)
    expect((await ask('GET', '/tiles/trees/3/1/0.png')).status).toBe(400)
  })
})
