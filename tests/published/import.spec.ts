/**
 * Files that towns really published, read whole. Sources: street tree data of one district of Toronto, three exports
 * (Open Government Licence - Toronto); tree register and felling lists of Flensburg (CC0 1.0, Schleswig-Holstein open
 * data); trees, buildings, ways and occupied areas of Monaco (© OpenStreetMap contributors, ODbL).
 * Every expected number is counted here from the files by other means than the package's own.
 */
import { existsSync, readFileSync } from 'node:fs'
import { gunzipSync } from 'node:zlib'
import { booleanValid } from '@turf/turf'
import {
  type Comparison,
  compareWithStored,
  readGround,
  readTable,
  readTrees,
  readZones,
  suggestMapping,
  type TreeReading,
} from '@underbough/exchange'
import { type Outcome, treeInput, zoneInput } from '@underbough/model'
import Papa from 'papaparse'
import { beforeAll, describe, expect, it } from 'vitest'

const data = new URL('../../../shared/data/', import.meta.url)
const here = existsSync(data)
if (!here) console.log('import: ../shared/data is not here, so the open data are not read')

function bytesOf(name: string): Uint8Array {
  const bytes = readFileSync(new URL(name, data))
  return name.endsWith('.gz') ? gunzipSync(bytes) : bytes
}

function taken<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.refusals.map((r) => `${r.code}: ${r.message}`).join('; '))
  return outcome.value
}

/** Reads a list by the mapping that the package itself suggests: nobody helps it. */
async function read(name: string): Promise<TreeReading> {
  const table = taken(readTable(bytesOf(name), name.replace(/\.gz$/, '')))
  const { mapping } = suggestMapping(table, { stemHeightM: 1.3, units: 'metric' })
  return taken(await readTrees(table, mapping))
}

const plainRows = (name: string) =>
  Papa.parse<Record<string, string>>(new TextDecoder().decode(bytesOf(name)), {
    header: true,
    skipEmptyLines: true,
  }).data

/** Rows by the code of their note, one count a row and code. */
function classes(reading: TreeReading): Record<string, number> {
  const counts: Record<string, number> = {}
  for (const row of reading.rows)
    for (const code of new Set(row.notes.map((note) => note.code))) {
      const key = row.verdict === 'refused' ? `refused ${code}` : code
      counts[key] = (counts[key] ?? 0) + 1
    }
  return counts
}

function printed(name: string, reading: TreeReading): void {
  const { taken: whole, 'taken-with-notes': noted, refused } = reading.counts
  const parts = Object.entries(classes(reading)).map(([code, count]) => `${code} ${count}`)
  console.log(
    `${name.padEnd(28)} taken ${whole}  with notes ${noted}  refused ${refused}  | ${parts.join(', ')}`,
  )
}

const exports = ['2022-06-01', '2024-02-05', '2024-06']
const torontoFile = (month: string) => `toronto/street-tree-data-EY.${month}.csv.gz`
const blank = (cell: string | undefined) => cell === undefined || cell === '' || cell === 'None'
const pointOf = (row: Record<string, string>) => JSON.parse(row.geometry!).coordinates as [number, number]

/** Trees that share their point, to a centimetre. */
function sharing(rows: Record<string, string>[]): number {
  const points = new Map<string, number>()
  const key = (row: Record<string, string>) =>
    pointOf(row)
      .map((n) => n.toFixed(7))
      .join()
  for (const row of rows) points.set(key(row), (points.get(key(row)) ?? 0) + 1)
  return rows.filter((row) => points.get(key(row))! > 1).length
}

describe.skipIf(!here)('Toronto: three exports of one district', () => {
  const readings: TreeReading[] = []
  const plain = exports.map(() => [] as Record<string, string>[])

  beforeAll(async () => {
    for (const [i, month] of exports.entries()) {
      readings.push(await read(torontoFile(month)))
      plain[i] = plainRows(torontoFile(month))
      printed(`Toronto ${month}`, readings[i]!)
    }
  })

  it('takes every row; the row counts are those of the data’s own description', () => {
    expect(readings[0]!.rows).toHaveLength(6503)
    expect(readings[2]!.rows).toHaveLength(6115)
    for (const [i, reading] of readings.entries()) {
      expect(reading.rows).toHaveLength(plain[i]!.length)
      expect(reading.counts.refused).toBe(0)
      for (const row of reading.rows) expect(treeInput.safeParse(row.tree).error).toBeUndefined()
    }
  })

  it('notes what is odd about a row, and nothing else', () => {
    for (const [i, reading] of readings.entries()) {
      const rows = plain[i]!
      const diameter = (row: Record<string, string>) => (blank(row.DBH_TRUNK) ? null : Number(row.DBH_TRUNK))
      const { 'species-unknown': odd = 0, ...rest } = classes(reading)
      const expected = {
        // Not measured, written as 0 until 2024-02: no tree has a diameter of 0, so it stays unknown.
        'diameter-implausible': rows.filter((row) => diameter(row) === 0).length,
        // Not measured, written as an empty cell since 2024-06.
        'value-blank': rows.filter((row) => diameter(row) === null).length,
        // One tree of 674 cm: kept, with a question.
        'diameter-unusual': rows.filter((row) => diameter(row)! > 300).length,
        // Several trees placed on the point of one house.
        'shared-position': sharing(rows),
      }
      expect(rest).toEqual(Object.fromEntries(Object.entries(expected).filter(([, count]) => count > 0)))
      // Written otherwise than botanical names are (genus with a capital, epithets without).
      const unusual = ['ginkgo biloba', 'Prunus virginiana Shubert', 'Rhus Typhina', 'Fagus sylvatica Cupria']
      expect(odd).toBe(rows.filter((row) => unusual.includes(row.BOTANICAL_NAME ?? '')).length)
    }
  })

  it('finds STRUCTID, which stays, and not OBJECTID or _id, which are given anew', () => {
    for (const [i, reading] of readings.entries())
      expect(reading.rows.map((row) => row.sourceKey)).toEqual(plain[i]!.map((row) => row.STRUCTID))
    const numbers = (rows: Record<string, string>[], name: string) =>
      new Map(rows.map((row) => [row.STRUCTID, row[name]]))
    for (const name of ['OBJECTID', '_id']) {
      const [before, after] = [numbers(plain[0]!, name), numbers(plain[2]!, name)]
      const kept = [...after].filter(([key, value]) => before.get(key) === value).length
      expect(kept).toBeLessThan(0.01 * after.size)
    }
  })

  it.each([
    [0, 1],
    [1, 2],
  ])('compares export %i with export %i as a plain walk over the rows does', (from, to) => {
    const stored = readings[from]!.rows.map((row) => ({ sourceKey: row.sourceKey!, tree: row.tree! }))
    const comparison = compareWithStored(readings[to]!.rows, stored, readings[to]!.fields)
    const walk = plainComparison(plain[from]!, plain[to]!)
    const found = {
      new: comparison.new.length,
      gone: comparison.gone.length,
      same: comparison.same.length,
      changed: comparison.changed.length,
      ...fieldCounts(comparison),
    }
    console.log(`Toronto ${exports[from]} → ${exports[to]}: ${JSON.stringify(found)}`)
    expect(found).toEqual(walk)
    expect(comparison.unread).toEqual([])
  })
})

function fieldCounts({ changed }: Comparison) {
  const count = (field: string) => changed.filter((c) => c.differences.some((d) => d.field === field)).length
  return {
    species: count('species'),
    commonName: count('commonName'),
    diameter: count('stems'),
    moved: count('position'),
  }
}

/** The same comparison from the bare cells. An older export without botanical names is known by its common names. */
function plainComparison(before: Record<string, string>[], after: Record<string, string>[]) {
  const old = new Map(before.map((row) => [row.STRUCTID!, row]))
  const now = new Set(after.map((row) => row.STRUCTID!))
  const result = { new: 0, gone: 0, same: 0, changed: 0, species: 0, commonName: 0, diameter: 0, moved: 0 }
  result.gone = before.filter((row) => !now.has(row.STRUCTID!)).length
  const diameter = (row: Record<string, string>) => (blank(row.DBH_TRUNK) ? 0 : Number(row.DBH_TRUNK))
  const spaced = (text: string) => text.trim().replace(/\s+/g, ' ')
  for (const row of after) {
    const was = old.get(row.STRUCTID!)
    if (!was) {
      result.new++
      continue
    }
    const species =
      spaced(was.BOTANICAL_NAME ?? was.COMMON_NAME!) !== spaced(row.BOTANICAL_NAME ?? row.COMMON_NAME!)
    const commonName = spaced(was.COMMON_NAME!) !== spaced(row.COMMON_NAME!)
    const thicker = diameter(was) !== diameter(row)
    const moved = haversineM(pointOf(was), pointOf(row)) >= 0.3
    result.species += Number(species)
    result.commonName += Number(commonName)
    result.diameter += Number(thicker)
    result.moved += Number(moved)
    if (species || commonName || thicker || moved) result.changed++
    else result.same++
  }
  return result
}

/** Great-circle distance; the textbook formula on a sphere of 6,371 km. */
function haversineM([lon1, lat1]: number[], [lon2, lat2]: number[]): number {
  const rad = Math.PI / 180
  const a =
    Math.sin(((lat2! - lat1!) * rad) / 2) ** 2 +
    Math.cos(lat1! * rad) * Math.cos(lat2! * rad) * Math.sin(((lon2! - lon1!) * rad) / 2) ** 2
  return 2 * 6_371_000 * Math.asin(Math.sqrt(a))
}

describe.skipIf(!here)('Flensburg: a tree register in Gauss-Krüger coordinates', () => {
  let reading: TreeReading
  const plain = () =>
    Papa.parse<string[]>(new TextDecoder().decode(bytesOf('flensburg/lebende-baeume.csv.gz')), {
      skipEmptyLines: true,
    }).data.slice(1)

  beforeAll(async () => {
    reading = await read('flensburg/lebende-baeume.csv.gz')
    printed('Flensburg register', reading)
  })

  it('takes all 18,697 rows and keeps 559 of them as groups, as the data’s own description counts them', () => {
    expect(reading.rows).toHaveLength(18_697)
    expect(reading.counts.refused).toBe(0)
    const grouped = reading.rows.filter((row) => row.tree!.group !== null)
    expect(grouped.filter((row) => row.raw.ga_lang!.startsWith('Baumgruppe'))).toHaveLength(559)
    // One more is called “Baumbestand”, a stand of trees.
    expect(
      grouped.filter((row) => !row.raw.ga_lang!.startsWith('Baumgruppe')).map((row) => row.raw.ga_lang),
    ).toEqual(['Baumbestand'])
    for (const row of reading.rows) expect(treeInput.safeParse(row.tree).error).toBeUndefined()
  })

  it('notes groups and names that are not botanical, and nothing else', () => {
    const { 'group-of-trees': groups, 'species-unknown': odd, ...rest } = classes(reading)
    expect(rest).toEqual({})
    expect(groups).toBe(560)
    // “Apfel-Sorte” and the like, and rows without any name; at most one in fifty.
    expect(odd! / reading.rows.length).toBeLessThan(0.02)
    expect(reading.counts['taken-with-notes']).toBe(groups! + odd!)
    expect(reading.counts.taken).toBe(18_697 - groups! - odd!)
  })

  it('parts “Latin, German” at the first comma', () => {
    const twoNames = plain().filter((cells) => cells[3]!.includes(','))
    expect(reading.rows.filter((row) => row.tree!.commonName !== null)).toHaveLength(twoNames.length)
    const elder = reading.rows.find((row) => row.raw.ga_lang === 'Alnus glutinosa, Schwarz-Erle')!
    expect(elder.tree).toMatchObject({ species: 'Alnus glutinosa', commonName: 'Schwarz-Erle' })
  })

  it('makes the identifier of number, area and street, since the number alone comes back', () => {
    const cells = plain()
    const joined = new Set(cells.map((row) => [row[0]!.trim(), row[4], row[5]].join()))
    expect(new Set(cells.map((row) => row[0]!.trim())).size).toBeLessThan(3000)
    expect(joined.size).toBe(18_697)
    expect(new Set(reading.rows.map((row) => row.sourceKey)).size).toBe(18_697)
    expect(new Set(reading.rows.map((row) => row.tree!.tag)).size).toBe(18_697)
  })

  it('sets every tree down in Flensburg (9.35-9.52° E, 54.74-54.84° N: the town’s extent, from memory)', () => {
    expect(reading.axes).toBe('as-named')
    expect(reading.crs).toBe('EPSG:31467')
    const [west, south, east, north] = reading.extent!
    expect(west).toBeGreaterThan(9.35)
    expect(east).toBeLessThan(9.52)
    expect(south).toBeGreaterThan(54.74)
    expect(north).toBeLessThan(54.84)
  })
})

describe.skipIf(!here)('Flensburg: felled trees, with coordinates in both systems', () => {
  it('turns the swapped northing and easting and comes within 1.5 m of the town’s own longitude and latitude', async () => {
    const reading = await read('flensburg/baumfaellungen_flensburg_datenbank_2023.csv')
    printed('Flensburg fellings, database', reading)
    expect(reading.axes).toBe('swapped')
    expect(reading.crsNotes.map((note) => note.code)).toEqual(['crs-approximate', 'axes-swapped'])
    expect(reading.counts.refused).toBe(0)
    // The columns have slipped by one: the longitude stands under “geom”, the latitude in a column without a name.
    const own = reading.rows.filter((row) => Number(row.raw['Column 16']) > 0)
    expect(own.length).toBeGreaterThan(200)
    const offM = own.map((row) =>
      haversineM(row.tree!.position, [Number(row.raw.geom), Number(row.raw['Column 16'])]),
    )
    console.log(`Flensburg fellings: at most ${Math.max(...offM).toFixed(2)} m from the town's own positions`)
    expect(Math.max(...offM)).toBeLessThan(1.5)
  })

  it('takes the list with decimal commas, northing first', async () => {
    const reading = await read('flensburg/baumfaellungen_flensburg_2023.csv')
    printed('Flensburg fellings, list', reading)
    expect(reading.axes).toBe('as-named')
    expect(reading.counts.refused).toBe(0)
    expect(reading.rows).toHaveLength(plainRows('flensburg/baumfaellungen_flensburg_2023.csv').length)
  })

  it('does not take a list of species for a list of trees', async () => {
    const table = taken(readTable(bytesOf('flensburg/tree_species.csv'), 'tree_species.csv'))
    const { mapping } = suggestMapping(table, { stemHeightM: 1.3, units: 'metric' })
    const outcome = await readTrees(table, mapping)
    expect(outcome.ok || outcome.refusals.map((r) => r.code)).toEqual(['column-missing'])
  })
})

describe.skipIf(!here)('Monaco: open map data', () => {
  const mapping = { nameColumn: 'name', kindColumn: null, lineWidthM: 6, crs: 'WGS84' }

  it('takes all 208 trees', async () => {
    const reading = await read('monaco/monaco.trees.geojson')
    printed('Monaco trees', reading)
    expect(reading.counts).toEqual({ taken: 208, 'taken-with-notes': 0, refused: 0 })
  })

  it.each([
    ['buildings', 966],
    ['occupied-areas', 38],
    ['ways', 860],
  ])('takes %s whole, %i of them, as sound areas', async (name, count) => {
    const bytes = bytesOf(`monaco/monaco.${name}.geojson`)
    const zones = taken(await readZones(bytes, { ...mapping, kind: 'seating' }))
    expect(zones.rows).toHaveLength(count)
    expect(zones.counts.refused).toBe(0)
    for (const { value } of zones.rows) {
      expect(zoneInput.safeParse(value).error).toBeUndefined()
      expect(booleanValid(value!.geometry)).toBe(true)
    }
    const ground = taken(await readGround(bytes, { ...mapping, kind: 'green' }))
    expect(ground.counts.refused).toBe(0)
    expect(ground.rows).toHaveLength(count)
  })
})
