/**
 * `npm run bench -- city`: who is under every tree of a seeded city, in PostgreSQL, reading and writing included. By one process and
 * by two, with nothing and with everything changed; one edit at that size; and beside it, in the same run, the database's own
 * ST_Intersection of all pairs for one bearing, on a sample. Needs a PostgreSQL server; the cities it makes are kept for the next run.
 *
 * UNDERBOUGH_CITY_TREES sets the size of the largest city (1,000,000); two smaller ones show how time grows.
 */
import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import postgres from 'postgres'
import { editRows } from './city-edits.ts'
import { CITY_DATABASE, type City, cityOf, ensureCity } from './make-city.ts'
import type { BenchRow } from './row.ts'

const LARGEST = Number(process.env.UNDERBOUGH_CITY_TREES ?? 1_000_000)
const TREES_A_ZONE = 5
const EDITS = 100
const SAMPLE_PAIRS = 20_000

interface Report {
  wallS: number
  processorS: number
  mostMb: number
  said: string
}

export async function run(): Promise<BenchRow[]> {
  const rows: BenchRow[] = []
  for (const trees of [LARGEST / 100, LARGEST / 10]) rows.push(...(await growth(trees)))
  const city = await named(LARGEST, 3)
  rows.push(...made(city, LARGEST))
  await forget(city)
  const alone = await pass(city, 0)
  rows.push(...passRows(`${LARGEST} trees, one process`, alone))
  const pairs = await pairsOf(city)
  rows.push({
    case: 'pairs that may touch',
    figure: pairs,
    unit: 'pairs',
    note: `${(pairs / LARGEST).toFixed(2)} a tree`,
  })
  rows.push(...passRows(`${LARGEST} trees, nothing changed`, await pass(city, 0)))
  rows.push(...(await beside(city, pairs, alone)))
  rows.push(...(await editRows(city, EDITS)))
  await forget(city)
  const shared = await pass(city, 1)
  rows.push(...passRows(`${LARGEST} trees, two processes`, shared))
  rows.push({
    case: 'one process over two',
    figure: alone[0]!.wallS / shared[0]!.wallS,
    unit: '×',
    note: 'the database works on the same cores',
  })
  const dense = await named(LARGEST / 10, 8)
  await forget(dense)
  rows.push(...passRows(`${LARGEST / 10} trees, 8 zones in reach`, await pass(dense, 0)))
  return rows
}

const named = (trees: number, near: 3 | 8) =>
  ensureCity(
    cityOf(trees, trees / TREES_A_ZONE, near),
    trees === 1_000_000 && near === 3 ? CITY_DATABASE : `${CITY_DATABASE}_${trees / 1000}k_${near}`,
  )

const made = ({ madeInS }: City, trees: number): BenchRow[] =>
  madeInS === null ? [] : [{ case: `${trees} trees made (not counted)`, figure: madeInS, unit: 's' }]

async function growth(trees: number): Promise<BenchRow[]> {
  const city = await named(trees, 3)
  await forget(city)
  return [...made(city, trees), ...passRows(`${trees} trees, one process`, await pass(city, 0))]
}

function passRows(title: string, reports: Report[]): BenchRow[] {
  return [
    { case: `whole pass, ${title}`, figure: reports[0]!.wallS, unit: 's', note: reports[0]!.said },
    {
      case: `processor, ${title}`,
      figure: reports.reduce((sum, { processorS }) => sum + processorS, 0),
      unit: 's',
      note: 'without the database',
    },
    { case: `memory, ${title}`, figure: Math.max(...reports.map(({ mostMb }) => mostMb)), unit: 'MB' },
  ]
}

/** As if no figures had ever been computed. */
async function forget({ url }: City) {
  const sql = postgres(url, { max: 1, onnotice: () => {} })
  await sql`truncate exposure, exposure_zone, exposure_tile, hotspot_touched`
  await sql`vacuum analyze exposure, exposure_zone, exposure_tile`
  await sql`checkpoint`
  await sql.end()
}

const worker = fileURLToPath(new URL('./city-worker.ts', import.meta.url))

/** One process begins the pass and so many others help. Reports come back with the first one's first. */
async function pass({ url, organisationId }: City, helpers: number): Promise<Report[]> {
  const start = (part: string) => {
    const child = fork(worker, [url, part, organisationId], {
      execArgv: ['--import', 'tsx'],
      stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
    })
    let said = ''
    child.stdout!.on('data', (bytes) => {
      said += bytes
    })
    const ready = new Promise((resolve) => child.once('message', resolve))
    const ended = new Promise<Report>((resolve, reject) =>
      child.once('close', (code) =>
        code === 0
          ? resolve(JSON.parse(said.trim().split('\n').at(-1)!))
          : reject(new Error(`a worker ended with ${code}`)),
      ),
    )
    return { child, ready, ended }
  }
  const others = Array.from({ length: helpers }, () => start('help'))
  await Promise.all(others.map(({ ready }) => ready))
  const first = await start('begin').ended
  for (const { child } of others) child.send('stop')
  return [first, ...(await Promise.all(others.map(({ ended }) => ended)))]
}

async function pairsOf({ url }: City): Promise<number> {
  const sql = postgres(url, { max: 1, onnotice: () => {} })
  const [row] = await sql<{ n: number }[]>`select count(*)::int as n from exposure_zone`
  await sql.end()
  return row!.n
}

/** All pairs' shared area for one bearing by the database, from a sample: a strip as long as the tree reaches, laid to the north. */
async function beside({ url }: City, pairs: number, alone: Report[]): Promise<BenchRow[]> {
  const sql = postgres(url, { max: 1, onnotice: () => {} })
  await sql`set max_parallel_workers_per_gather = 0`
  await sql.unsafe(`create temp table pair as
    select z.geometry as zone, ST_Buffer(ST_MakeLine(t.position,
      ST_Translate(t.position, 0, e.reach_m / 110800)), e.reach_m / 110800 / 5, 'quad_segs=12') as outline
    from exposure_zone x join exposure e using (organisation_id, tree_id)
    join tree t on t.organisation_id = x.organisation_id and t.id = x.tree_id
    join zone z on z.organisation_id = x.organisation_id and z.id = x.zone_id limit ${SAMPLE_PAIRS}`)
  const cut = 'select sum(ST_Area(ST_Intersection(outline, zone))) from pair'
  await sql.unsafe(cut)
  const before = performance.now()
  await sql.unsafe(cut)
  const allS = (((performance.now() - before) / 1000) * pairs) / SAMPLE_PAIRS
  await sql.end()
  const oursS = alone.reduce((sum, { processorS }) => sum + processorS, 0)
  return [
    {
      case: 'shared areas of all pairs, one bearing, PostGIS',
      figure: allS,
      unit: 's',
      peer: 'every figure over all bearings, processor',
      peerFigure: oursS,
      ratio: oursS / allS,
      note: `from ${SAMPLE_PAIRS} pairs`,
    },
  ]
}
