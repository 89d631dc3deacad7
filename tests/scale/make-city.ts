/**
 * Makes a seeded city in a database of PostgreSQL and keeps it: the same size and seed are not made twice.
 *
 *   node --import tsx tests/scale/make-city.ts [--trees 1000000] [--zones 200000] [--near 3] [--name underbough_city] [--again]
 *
 * `--near` is how many zones lie within reach of a tree on average (3 or 8). People who can sign in: `manager@city.example`,
 * `officer@city.example`, `inspector@city.example`, with the password below. The records' day is 25 November 2026.
 */
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { pathToFileURL } from 'node:url'
import { parseArgs } from 'node:util'
import { type Database, openDatabase, tables } from '@underbough/db'
import { addDays, type Position, seededNumbers } from '@underbough/model'
import postgres from 'postgres'
import { addAccount } from '../../apps/server/src/session/auth.ts'

import {
  type CitySize,
  type CityTree,
  type CityZone,
  cityBlocks,
  cityUses,
  DISTRICTS,
  uuid,
} from './city-plan.ts'

const ADMIN = process.env.UNDERBOUGH_TEST_POSTGRES ?? 'postgres://postgres@127.0.0.1:5432/postgres'
export const CITY_DATABASE = 'underbough_city'
export const cityPassword = 'a long enough word'
export const CITY_DAY = '2026-11-25'
const ORGANISATION_ID = '5c17a000-0000-4000-8000-000000000001'
/** Raise it when the same seed gives other rows. */
const LAYOUT = 1

/** Side of a block, metres, at which so many zones lie within reach of a tree on average: found by trying. */
const blockM = { 3: 127, 8: 63 } as const

export interface City {
  url: string
  organisationId: string
  /** Seconds it took to make; null where it was there. */
  madeInS: number | null
}

export const cityOf = (trees: number, zones: number, near: 3 | 8 = 3, seed = 20261125): CitySize => ({
  seed,
  trees,
  zones,
  blockM: blockM[near],
})

/** The city of this size, made where it is not there yet. Throws where no server answers. */
export async function ensureCity(size: CitySize, name = CITY_DATABASE, again = false): Promise<City> {
  const url = Object.assign(new URL(ADMIN), { pathname: `/${name}` }).href
  const admin = postgres(ADMIN, { max: 1, onnotice: () => {}, connect_timeout: 5 })
  const said = JSON.stringify({ ...size, layout: LAYOUT })
  try {
    const [known] = await admin`
      select shobj_description(oid, 'pg_database') as said from pg_database where datname = ${name}`
    if (known?.said === said && !again) return { url, organisationId: ORGANISATION_ID, madeInS: null }
    const began = performance.now()
    await admin.unsafe(`drop database if exists ${name} with (force)`)
    await admin.unsafe(`create database ${name}`)
    const database = await openDatabase({ url })
    await fill(database, size)
    await database.close()
    await admin.unsafe(`comment on database ${name} is '${said}'`)
    return { url, organisationId: ORGANISATION_ID, madeInS: (performance.now() - began) / 1000 }
  } finally {
    await admin.end()
  }
}

async function fill(database: Database, size: CitySize) {
  await people(database)
  const siteIds = await sites(database, size.seed)
  const indexes = await withoutIndexes(database)
  // What follows from the records for the map is made once at the end, not once for each COPY.
  for (const table of ['tree', 'tree_state'])
    await database.sql.unsafe(`alter table ${table} disable trigger user`)
  await copyInto(database, 'zone', zoneColumns, zoneLines(size, siteIds))
  await copyInto(database, 'tree', treeColumns, treeLines(size, siteIds))
  await copyInto(database, 'tree_state', stateColumns, stateLines(size))
  for (const made of indexes) await database.sql.unsafe(made)
  for (const table of ['tree', 'tree_state'])
    await database.sql.unsafe(`alter table ${table} enable trigger user`)
  await database.sql`select remake_tree_marks(${ORGANISATION_ID})`
  await database.sql.unsafe(looksAndRatings)
  await database.db.insert(tables.mapVersion).values({ organisationId: ORGANISATION_ID })
  await database.sql`vacuum analyze`
}

async function people(database: Database) {
  await database.db.insert(tables.organisation).values({
    id: ORGANISATION_ID,
    name: 'City of Saltmarsh',
    timeZone: 'Atlantic/St_Helena',
    hemisphere: 'south',
    stemHeightM: 1.3,
    units: 'metric',
    failureTimeFrameYears: 3,
  })
  for (const role of ['manager', 'officer', 'inspector'] as const) {
    await addAccount(database, {
      id: role,
      name: `The ${role}`,
      email: `${role}@city.example`,
      password: cityPassword,
    })
    await database.db
      .insert(tables.membership)
      .values({ organisationId: ORGANISATION_ID, personId: role, role })
  }
}

async function sites(database: Database, seed: number): Promise<string[]> {
  const random = seededNumbers(seed + 1)
  const rows = Array.from({ length: DISTRICTS ** 2 }, (_, i) => ({
    organisationId: ORGANISATION_ID,
    id: uuid(random),
    name: `District ${i + 1}`,
    outline: { type: 'Point', coordinates: [-8.25, -31.67] },
    // Half of the districts know their wind: gusts from the west and north-west.
    windRose:
      i % 2 === 0 ? [4, 2, 1, 1, 1, 1, 2, 3, 4, 6, 9, 14, 18, 16, 11, 7].map((share) => share / 100) : null,
  }))
  await database.db.insert(tables.site).values(rows)
  return rows.map((row) => row.id)
}

/** Takes the spatial and other secondary indexes of the large tables away, and says how each is made again. */
async function withoutIndexes({ sql }: Database): Promise<string[]> {
  const rows = await sql<{ name: string; made: string }[]>`
    select i.indexname as name, i.indexdef as made from pg_indexes i
    where i.schemaname = 'public' and i.tablename in ('zone', 'tree', 'tree_state')
      and not exists (select from pg_constraint c where c.conname = i.indexname)`
  for (const { name } of rows) await sql.unsafe(`drop index "${name}"`)
  return rows.map((row) => row.made)
}

async function copyInto({ sql }: Database, table: string, columns: string, lines: Iterable<string>) {
  const into = await sql.unsafe(`copy ${table} (${columns}) from stdin`).writable()
  await pipeline(Readable.from(lines), into)
}

/** Rows a thousand at a time: one chunk a row is slow. */
function* inThousands(rows: Iterable<string>): Generator<string> {
  let held: string[] = []
  for (const row of rows) {
    held.push(row)
    if (held.length === 1000) {
      yield held.join('')
      held = []
    }
  }
  if (held.length > 0) yield held.join('')
}

const NULL = '\\N'
const line = (...fields: (string | number | boolean | null)[]) =>
  `${fields.map((field) => (field === null ? NULL : field)).join('\t')}\n`
const json = (value: unknown) => (value === null ? null : JSON.stringify(value))

const zoneColumns =
  'organisation_id, id, site_id, name, kind, geometry, area_m2, occupancy_word, occupancy, static_target'
function* zoneLines(size: CitySize, siteIds: string[]) {
  const uses = cityUses(size.seed).map(({ word, profile }) => [word, JSON.stringify(profile)] as const)
  const row = ({ id, site, name, kind, ring, areaM2, use }: CityZone) => {
    const [word, profile] = uses[use]!
    const shape = `SRID=4326;POLYGON((${ring.map((p) => p.map((v) => v.toFixed(9)).join(' ')).join(',')}))`
    const stays = kind === 'building'
    return line(ORGANISATION_ID, id, siteIds[site]!, name, kind, shape, areaM2, word, profile, stays)
  }
  yield* inThousands(each(size, (block) => block.zones.map(row)))
}

const treeColumns = `organisation_id, id, site_id, tag, species, position, stems, stem_diameter_cm, height_m,
  crown_base_height_m, crown_radii_m, lean, clearing_bearing_deg, dead_or_brittle, status, entered_on`
function* treeLines(size: CitySize, siteIds: string[]) {
  let number = 0
  const row = (tree: CityTree) =>
    line(
      ORGANISATION_ID,
      tree.id,
      siteIds[tree.site]!,
      `C${++number}`,
      tree.species,
      pointOf(tree.position),
      json(tree.stemDiameterCm === null ? [] : [{ diameterCm: tree.stemDiameterCm, measuredAtM: 1.3 }]),
      tree.stemDiameterCm,
      tree.heightM,
      tree.crownBaseHeightM,
      json(tree.crownRadiiM),
      json(tree.lean),
      tree.clearingBearingDeg,
      tree.deadOrBrittle,
      tree.status,
      '2026-01-15',
    )
  yield* inThousands(each(size, (block) => block.trees.map(row)))
}

const stateColumns = `organisation_id, tree_id, risk, seen, last_visit_on, due_on, due_kind, due_level, due_reason, look_on, policy_edition`
function* stateLines(size: CitySize) {
  const row = ({ id, risk, dueInDays }: CityTree) => {
    const on = dueInDays === null ? null : addDays(CITY_DAY, dueInDays)
    const seenOn = risk && addDays(CITY_DAY, -30 - (Math.abs(dueInDays ?? 0) % 700))
    const [kind, level] = on === null ? [null, null] : risk ? ['look', 2] : ['baseline', 1]
    const because = on && (risk ? 'Rated; the interval of its risk.' : 'Nobody has seen it yet.')
    return line(ORGANISATION_ID, id, risk, risk !== null, seenOn, on, kind, level, because, on, on && 'start')
  }
  yield* inThousands(each(size, (block) => block.trees.map(row)))
}

function* each<T>(size: CitySize, rowsOf: (block: { zones: CityZone[]; trees: CityTree[] }) => T[]) {
  for (const block of cityBlocks(size)) yield* rowsOf(block)
}

/** A point as the extended well-known binary of PostGIS, in hexadecimal: what the server reads quickest. */
function pointOf([longitude, latitude]: Position): string {
  const bytes = Buffer.alloc(25)
  bytes.writeUInt8(1, 0)
  bytes.writeUInt32LE(0x20000001, 1)
  bytes.writeUInt32LE(4326, 5)
  bytes.writeDoubleLE(longitude, 9)
  bytes.writeDoubleLE(latitude, 17)
  return bytes.toString('hex')
}

/** A closed visit and a rating behind every risk, so that an edit finds as many records as in a city that is looked after. */
const looksAndRatings = `
  insert into visit (organisation_id, id, tree_id, person_id, level, stage, started_at, ended_at, closed_at, weather,
    leaf_state, steps, could_not_see)
  select organisation_id, md5('visit' || tree_id)::uuid, tree_id, 'inspector', 2, 'closed', last_visit_on + time '10:00',
    last_visit_on + time '10:12', last_visit_on + time '10:12', 'dry', 'in-leaf', '[]', ''
  from tree_state where risk is not null;
  insert into rating (organisation_id, id, tree_id, visit_id, person_id, rated_at, time_frame_years, change_rate, scenarios,
    worst, computed_risk, override_reason, risk, matrices_edition, policy_edition, method_version)
  select organisation_id, md5('rating' || tree_id)::uuid, tree_id, md5('visit' || tree_id)::uuid, 'inspector',
    last_visit_on + time '10:12', 3, 'ordinary', '[]',
    json_build_object('scenarioId', md5('part' || tree_id)::uuid, 'targetName', 'Way', 'failure', 'possible', 'impact', 'medium',
      'joint', 'unlikely', 'consequences', 'significant', 'risk', risk),
    risk, '', risk, 'start', 'start', 'rating 1'
  from tree_state where risk is not null;`

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const { values } = parseArgs({
    options: {
      trees: { type: 'string', default: '1000000' },
      zones: { type: 'string', default: '200000' },
      near: { type: 'string', default: '3' },
      name: { type: 'string', default: CITY_DATABASE },
      again: { type: 'boolean', default: false },
    },
  })
  const near = values.near === '8' ? 8 : 3
  const size = cityOf(Number(values.trees), Number(values.zones), near)
  const { url, madeInS } = await ensureCity(size, values.name, values.again)
  console.log(madeInS === null ? `It is there: ${url}` : `Made in ${madeInS.toFixed(0)} s: ${url}`)
}
