import type { Guessed, Sampled } from './guesses.ts'
import { parseNumber } from './numbers.ts'
import type { Table } from './table-types.ts'

/** Ranges in which the numbers of well-known national systems lie, east and north (from the EPSG dataset's areas of use). */
const systems: {
  crs: string
  name: string
  east: [number, number]
  north: [number, number]
  words?: RegExp
}[] = [
  { crs: 'EPSG:31466', name: 'Gauss-Krüger zone 2', east: [2.4e6, 2.7e6], north: [5.2e6, 6.2e6] },
  { crs: 'EPSG:31467', name: 'Gauss-Krüger zone 3', east: [3.3e6, 3.7e6], north: [5.2e6, 6.2e6] },
  { crs: 'EPSG:31468', name: 'Gauss-Krüger zone 4', east: [4.3e6, 4.7e6], north: [5.2e6, 6.2e6] },
  { crs: 'EPSG:31469', name: 'Gauss-Krüger zone 5', east: [5.3e6, 5.6e6], north: [5.2e6, 6.2e6] },
  {
    crs: 'EPSG:4647',
    name: 'UTM zone 32 with the zone in front',
    east: [32.2e6, 32.9e6],
    north: [5.2e6, 6.2e6],
  },
  {
    crs: 'EPSG:5650',
    name: 'UTM zone 33 with the zone in front',
    east: [33.2e6, 33.9e6],
    north: [5.2e6, 6.2e6],
  },
  { crs: 'EPSG:2056', name: 'Swiss LV95', east: [2.48e6, 2.84e6], north: [1.07e6, 1.3e6] },
  { crs: 'EPSG:28992', name: 'Dutch RD', east: [0, 3e5], north: [3e5, 6.3e5] },
  {
    crs: 'EPSG:2154',
    name: 'Lambert-93',
    east: [1e5, 1.3e6],
    north: [6e6, 7.2e6],
    words: /coord|voie|rue|arbre|essence|espece|hauteur/,
  },
]

/** Guesses the reference system from what the file states, the size of the numbers and the words of the headers. */
export function suggestCrs(
  table: Table,
  x: Sampled | null,
  y: Sampled | null,
  comma: boolean,
): Guessed<string> {
  if (table.crs) return { value: table.crs, confidence: 'sure', because: 'The file states it.' }
  if (table.format === 'geojson')
    return { value: 'WGS84', confidence: 'likely', because: 'GeoJSON is WGS84 (RFC 7946).' }
  if (!x || !y)
    return {
      value: 'WGS84',
      confidence: 'guess',
      because: 'The geometry does not say; longitude and latitude are usual.',
    }
  const [xs, ys] = [x, y].map((column) => range(column, comma)) as [[number, number], [number, number]]
  if (Math.max(...xs.map(Math.abs), ...ys.map(Math.abs)) <= 180)
    return { value: 'WGS84', confidence: 'likely', because: 'The numbers are as small as degrees.' }
  const words = table.columns.map((column) => column.name.toLowerCase()).join(' ')
  const inside = (r: [number, number], limits: [number, number]) => r[0] >= limits[0] && r[1] <= limits[1]
  const found = systems.filter(
    (s) =>
      (!s.words || s.words.test(words)) &&
      ((inside(xs, s.east) && inside(ys, s.north)) || (inside(ys, s.east) && inside(xs, s.north))),
  )
  if (found.length === 1)
    return {
      value: found[0]!.crs,
      confidence: 'likely',
      because: `The numbers are of the size of ${found[0]!.name}.`,
    }
  return {
    value: 'WGS84',
    confidence: 'none',
    because:
      'The numbers are metres of a system that the file does not name. Ask whoever made it, and write EPSG: and its number.',
  }
}

/** From the 5th to the 95th per cent, so that one slip of the pen does not decide. */
function range(column: Sampled, comma: boolean): [number, number] {
  const values = column.filled.flatMap((cell) => parseNumber(cell, comma) ?? []).sort((a, b) => a - b)
  const at = (share: number) => values[Math.min(values.length - 1, Math.floor(values.length * share))] ?? 0
  return [at(0.05), at(0.95)]
}
