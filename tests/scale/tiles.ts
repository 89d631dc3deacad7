import { type ChildProcess, spawn } from 'node:child_process'
import { type IncomingMessage, request } from 'node:http'
import { type AddressInfo, createServer } from 'node:net'
import { fileURLToPath } from 'node:url'
import { gunzipSync } from 'node:zlib'
import { seededNumbers } from '@underbough/model'
import postgres from 'postgres'
import { CITY_DATABASE, type City, cityOf, cityPassword, ensureCity } from './make-city.ts'
import type { BenchRow } from './row.ts'

/** Where the server of the city at hand answers. */
let address = ''
const EXTENT = 4096
/** Tiles asked for at each zoom, where trees are: the more trees, the likelier. */
const SAMPLE = 60
const narrowings = {
  'due in eight weeks': 'dueFrom=2026-11-23&dueUntil=2027-01-17',
  'high or extreme': 'risk=high,extreme',
  'overdue, never seen': 'overdue=true&seen=false',
  'a genus': 'names=tilia',
  'thick stems': 'stemFromCm=60',
}

/**
 * Tiles over HTTP from a running server, on seeded cities of 10,000, 100,000 and 1,000,000 trees with a fifth as many zones,
 * beside the same trees by PostGIS's own tile functions.
 */
export async function run(): Promise<BenchRow[]> {
  const sizes: [string, number][] = [
    ['underbough_city_10k', 10_000],
    ['underbough_city_100k', 100_000],
    [CITY_DATABASE, 1_000_000],
  ]
  const rows: BenchRow[] = []
  for (const [name, trees] of sizes) {
    const city = await ensureCity(cityOf(trees, trees / 5), name)
    if (city.madeInS !== null) console.log(`${name} made in ${city.madeInS.toFixed(0)} s`)
    rows.push(...(await ofCity(city, trees)))
  }
  return rows
}

async function ofCity(city: City, trees: number): Promise<BenchRow[]> {
  const server = await serve(city.url)
  const sql = postgres(city.url, { max: 1, onnotice: () => {} })
  try {
    const cookie = await signIn()
    const places = await sql<{ x: number; y: number }[]>`
      select x, y from tree_mark order by md5(tree_id::text || 'tiles') limit ${SAMPLE}`
    const title = trees >= 1e6 ? `${trees / 1e6}M trees` : `${trees / 1e3}k trees`
    const whole = trees >= 1e6
    const rows: BenchRow[] = []
    const zooms = whole ? [4, 6, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17] : [4, 8, 11, 12, 14, 16]
    for (const layer of ['trees', 'ground'] as const)
      for (const z of zooms) rows.push(...(await zoom(title, layer, z, places, cookie, '')))
    if (!whole) return rows
    for (const [what, query] of Object.entries(narrowings))
      for (const z of [4, 8, 11, 12, 13, 14, 15])
        rows.push(...(await zoom(`${title}, ${what}`, 'trees', z, places.slice(0, 20), cookie, query)))
    rows.push(...(await known(title, places, cookie)), ...(await opening(title, places, cookie)))
    for (const z of [4, 8, 11, 12, 14, 15, 16]) rows.push(await beside(title, sql, z, places, cookie))
    return rows
  } finally {
    await sql.end()
    server.kill('SIGTERM')
    await new Promise((ended) => server.once('exit', ended))
  }
}

/** The program as it is served, in a process of its own. */
async function serve(url: string): Promise<ChildProcess> {
  const port = await freePort()
  address = `http://127.0.0.1:${port}`
  const main = fileURLToPath(new URL('../../apps/server/src/main.ts', import.meta.url))
  const server = spawn(process.execPath, ['--import', 'tsx', main], {
    env: {
      ...process.env,
      DATABASE_URL: url,
      PORT: `${port}`,
      HOST: '127.0.0.1',
      UNDERBOUGH_SECRET: 'x'.repeat(40),
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  await new Promise<void>((resolve, reject) => {
    server.once('exit', (code) => reject(new Error(`The server ended with ${code}.`)))
    server.stdout!.on('data', (chunk: Buffer) => {
      if (`${chunk}`.includes('answers at')) resolve()
    })
  })
  return server
}

function freePort(): Promise<number> {
  const probe = createServer().listen(0, '127.0.0.1')
  return new Promise((resolve) =>
    probe.once('listening', () => {
      const { port } = probe.address() as AddressInfo
      probe.close(() => resolve(port))
    }),
  )
}

interface Got {
  status: number
  headers: IncomingMessage['headers']
  bytes: Buffer
  ms: number
}

function get(path: string, headers: Record<string, string>): Promise<Got> {
  const began = performance.now()
  return new Promise((resolve, reject) => {
    request(`${address}/api${path}`, { headers: { 'accept-encoding': 'gzip', ...headers } }, (answer) => {
      const chunks: Buffer[] = []
      answer.on('data', (chunk: Buffer) => chunks.push(chunk))
      answer.on('end', () =>
        resolve({
          status: answer.statusCode!,
          headers: answer.headers,
          bytes: Buffer.concat(chunks),
          ms: performance.now() - began,
        }),
      )
    })
      .on('error', reject)
      .end()
  })
}

async function signIn(): Promise<string> {
  const answer = await fetch(`${address}/api/session`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ email: 'officer@city.example', password: cityPassword }),
  })
  if (!answer.ok) throw new Error(`Signing in was answered by ${answer.status}.`)
  return answer.headers.getSetCookie()[0]!.split(';')[0]!
}

type Place = { x: number; y: number }
const tileAt = (z: number, { x, y }: Place) => ({
  z,
  x: Math.floor(x / 2 ** (30 - z)),
  y: Math.floor(y / 2 ** (30 - z)),
})
type Tile = ReturnType<typeof tileAt>
const addressOf = (layer: string, { z, x, y }: Tile, query = '') =>
  `/tiles/${layer}/${z}/${x}/${y}.mvt${query && `?${query}`}`

function figures(ms: number[]) {
  const sorted = [...ms].sort((a, b) => a - b)
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)]!
  return { p50: at(0.5), p95: at(0.95), max: sorted.at(-1)! }
}
const one = (value: number) => value.toFixed(1)

async function zoom(
  title: string,
  layer: 'trees' | 'ground',
  z: number,
  places: Place[],
  cookie: string,
  query: string,
) {
  const got: Got[] = []
  await get(addressOf(layer, tileAt(z, places[0]!), query), { cookie })
  for (const place of places) got.push(await get(addressOf(layer, tileAt(z, place), query), { cookie }))
  const refused = got.find((answer) => answer.status !== 200)
  if (refused) throw new Error(`A tile was answered by ${refused.status}: ${refused.bytes}`)
  const { p50, p95, max } = figures(got.map((answer) => answer.ms))
  const kB = Math.max(...got.map((answer) => answer.bytes.length)) / 1000
  const row: BenchRow = {
    case: `${title}: ${layer} z${z}, p95`,
    figure: p95,
    unit: 'ms',
    note: `p50 ${one(p50)}, max ${one(max)} ms; largest ${one(kB)} kB packed`,
  }
  return [row]
}

/** Tiles that the browser holds already. */
async function known(title: string, places: Place[], cookie: string): Promise<BenchRow[]> {
  const ms: number[] = []
  for (const place of places) {
    const path = addressOf('trees', tileAt(14, place))
    const { headers } = await get(path, { cookie })
    const again = await get(path, { cookie, 'if-none-match': headers.etag! })
    if (again.status !== 304) throw new Error(`A known tile was answered by ${again.status}.`)
    ms.push(again.ms)
  }
  const { p50, p95, max } = figures(ms)
  return [
    {
      case: `${title}: a tile that is held, p95`,
      figure: p95,
      unit: 'ms',
      note: `p50 ${one(p50)}, max ${one(max)} ms`,
    },
  ]
}

/** A map that opens: five by four tiles at once, over six connections, as a browser does. */
async function opening(title: string, places: Place[], cookie: string): Promise<BenchRow[]> {
  const rows: BenchRow[] = []
  for (const z of [12, 14, 16]) {
    const all: number[] = []
    for (const place of places.slice(0, 10)) {
      const middle = tileAt(z, place)
      const waiting = Array.from({ length: 20 }, (_, i) => ({
        z,
        x: middle.x - 2 + (i % 5),
        y: middle.y - 2 + Math.floor(i / 5),
      }))
      const began = performance.now()
      const hand = async () => {
        for (let tile = waiting.pop(); tile; tile = waiting.pop())
          await get(addressOf('trees', tile), { cookie })
      }
      await Promise.all(Array.from({ length: 6 }, hand))
      all.push(performance.now() - began)
    }
    const { p50, p95, max } = figures(all)
    rows.push({
      case: `${title}: twenty tiles of z${z} at once, p95 of the last`,
      figure: p95,
      unit: 'ms',
      note: `p50 ${one(p50)}, max ${one(max)} ms`,
    })
  }
  return rows
}

/** The same tiles by PostGIS: every tree of the tile by ST_AsMVT, or counts by the squares of its grid. */
async function beside(
  title: string,
  sql: postgres.Sql,
  z: number,
  places: Place[],
  cookie: string,
): Promise<BenchRow> {
  const random = seededNumbers(z)
  const some = Array.from({ length: 8 }, () => tileAt(z, places[Math.floor(random() * places.length)]!))
  const [ours, theirs]: [number[], number[]] = [[], []]
  let [kB, theirKb] = [0, 0]
  for (const { x, y } of some) {
    const got = await get(addressOf('trees', { z, x, y }), { cookie })
    ours.push(got.ms)
    kB = Math.max(kB, (got.headers['content-encoding'] ? gunzipSync(got.bytes) : got.bytes).length / 1000)
    const began = performance.now()
    const [row] = await sql<{ tile: Buffer }[]>`
      with edge as (select ST_TileEnvelope(${z}::int, ${x}::int, ${y}::int) as box),
      marks as (
        select ST_AsMVTGeom(ST_Transform(t.position, 3857), edge.box, ${EXTENT}, 0, true) as geom, t.id::text, t.tag, t.status,
          coalesce(array_position(array['low','moderate','high','extreme'], s.risk), 0) as risk,
          coalesce(s.due_on < date '2026-11-25', false)::int as overdue, s.seen::int as seen, s.due_on - date '1970-01-01' as due
        from edge, tree t left join tree_state s on s.organisation_id = t.organisation_id and s.tree_id = t.id
        where t.position && ST_Transform(edge.box, 4326)
      ), cells as (
        select ST_Centroid(ST_Collect(geom)) as geom, count(*), sum(overdue) as overdue
        from marks group by floor(ST_X(geom) / 512), floor(ST_Y(geom) / 512)
      )
      select ${z < 12 ? sql`ST_AsMVT(c, 'cells', ${EXTENT}, 'geom') as tile from cells c` : sql`ST_AsMVT(m, 'trees', ${EXTENT}, 'geom') as tile from marks m`}`
    theirs.push(performance.now() - began)
    theirKb = Math.max(theirKb, row!.tile.length / 1000)
  }
  const [p50, peer] = [figures(ours).p50, figures(theirs).p50]
  return {
    case: `${title}: trees z${z}, p50 with sign-in and HTTP`,
    figure: p50,
    unit: 'ms',
    peer: 'ST_AsMVT in the database',
    peerFigure: peer,
    ratio: p50 / peer,
    note: `theirs ${one(peer)} ms; unpacked ${one(kB)} and ${one(theirKb)} kB`,
  }
}
