import type { Position, Refusal, TreeMapping } from '@underbough/model'
import { planeAt } from '@underbough/model'
import wellknown from 'wellknown'
import { isBlank } from './cells.ts'
import { say } from './codes.ts'
import type { Crs } from './crs.ts'
import { isRecord } from './geojson.ts'
import { parseNumber } from './numbers.ts'

/** Two coordinates as they stand in a row: the one that its name says is east, then the one that says north. */
export type RawPair = [x: number, y: number]

/** Columns in which a mapping finds positions. */
export interface PlaceColumns {
  x: string | null
  y: string | null
  geometry: string | null
}

/** The pair of a row, or why there is none. */
export function rawPair(
  cell: (column: string) => string,
  columns: PlaceColumns,
  mapping: Pick<TreeMapping, 'decimalComma'>,
): RawPair | Refusal {
  if (columns.geometry !== null && !isBlank(cell(columns.geometry)))
    return fromGeometryText(cell(columns.geometry), columns.geometry)
  if (columns.x === null || columns.y === null) return missing(columns.geometry ?? '')
  const pair: number[] = []
  for (const column of [columns.x, columns.y]) {
    if (isBlank(cell(column))) return missing(column)
    const n = parseNumber(cell(column), mapping.decimalComma)
    if (n === null)
      return say('number-unreadable', column, `“${cell(column).slice(0, 40)}” is not a coordinate.`, {
        value: cell(column),
      })
    pair.push(n)
  }
  return nothingAtZero(pair as RawPair, columns.x)
}

const missing = (path: string) =>
  say(
    'position-missing',
    path,
    'The row has no position. Give it coordinates, or put the tree on the map by hand.',
  )

/** Zero, zero lies in the sea; it is what programs write for “none”. */
const nothingAtZero = (pair: RawPair, path: string): RawPair | Refusal =>
  pair[0] === 0 && pair[1] === 0 ? missing(path) : pair

function fromGeometryText(text: string, path: string): RawPair | Refusal {
  const geometry = text.startsWith('{') ? parsedJson(text) : /^[a-z]/i.test(text) ? parsedWkt(text) : null
  if (geometry === null) return fromPairText(text, path)
  if (!isRecord(geometry)) return unreadable(text, path)
  const { type, coordinates } = geometry
  const point =
    type === 'MultiPoint' && Array.isArray(coordinates) && coordinates.length === 1
      ? coordinates[0]
      : coordinates
  if (type !== 'Point' && point === coordinates)
    return say('geometry-wrong-kind', path, `A tree stands on one point; this row holds a ${String(type)}.`, {
      value: type,
    })
  if (!Array.isArray(point) || point.length === 0) return missing(path)
  const [x, y] = point as unknown[]
  if (typeof x !== 'number' || typeof y !== 'number') return unreadable(text, path)
  return nothingAtZero([x, y], path)
}

/** `54.78, 9.43`: written as one text, latitude comes first (common practice, no source). */
function fromPairText(text: string, path: string): RawPair | Refusal {
  const match = /^\(?\s*(-?\d+\.?\d*)\s*[,; ]\s*(-?\d+\.?\d*)\s*\)?$/.exec(text)
  return match ? nothingAtZero([Number(match[2]), Number(match[1])], path) : unreadable(text, path)
}

const unreadable = (text: string, path: string) =>
  say('number-unreadable', path, `“${text.slice(0, 40)}” is not a position.`, { value: text.slice(0, 200) })

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

function parsedWkt(text: string): unknown {
  return wellknown.parse(text.replace(/\bZM?\b/i, '').replace(/\s+/g, ' ')) ?? undefined
}

/** How the two coordinates of a file are taken. */
export type AxisOrder = 'as-named' | 'swapped'

/** Up to this many rows decide the order of the axes. */
const AXIS_SAMPLE = 2000
/** A file is turned only when most points fall wrong as named and most fall right the other way. Assumption. */
const AXIS_MAJORITY = 0.5
/** With both orders possible, the one that comes this near to the organisation's own ground is taken. Assumption. */
const NEAR_M = 200_000

/**
 * Finds the order of the axes by where the points fall: inside the area of the reference system one way and outside
 * it the other way, or, where both are possible, near the organisation's own ground.
 */
export function findAxisOrder(pairs: RawPair[], crs: Crs, near: Position | null): AxisOrder {
  const step = Math.max(1, Math.floor(pairs.length / AXIS_SAMPLE))
  let named = 0
  let turned = 0
  let total = 0
  for (let i = 0; i < pairs.length; i += step) {
    const [x, y] = pairs[i]!
    total++
    if (fits(crs.toDegrees(x, y), near)) named++
    if (fits(crs.toDegrees(y, x), near)) turned++
  }
  return named < total * AXIS_MAJORITY && turned > total * AXIS_MAJORITY ? 'swapped' : 'as-named'
}

const fits = (at: Position | null, near: Position | null) =>
  at !== null && (near === null || distanceM(at, near) < NEAR_M)

/** Great-circle distance on a sphere in metres; good to half a per cent, for looking for slips only. */
export function distanceM([lon1, lat1]: Position, [lon2, lat2]: Position): number {
  const rad = Math.PI / 180
  const h =
    Math.sin(((lat2 - lat1) * rad) / 2) ** 2 +
    Math.cos(lat1 * rad) * Math.cos(lat2 * rad) * Math.sin(((lon2 - lon1) * rad) / 2) ** 2
  return 2 * 6371008.8 * Math.asin(Math.min(1, Math.sqrt(h)))
}

/** Planar distance in metres between two near points. */
export function planarMoveM(from: Position, to: Position): number {
  return Math.hypot(...planeAt(from[0], from[1]).toMetres(to[0], to[1]))
}

/** WGS84 position of a pair, or the refusal. Rounded to 1e-8°, about a millimetre. */
export function placed([x, y]: RawPair, order: AxisOrder, crs: Crs, path: string): Position | Refusal {
  const at = order === 'swapped' ? crs.toDegrees(y, x) : crs.toDegrees(x, y)
  if (at) return [round8(at[0]), round8(at[1])]
  const hint = (order === 'swapped' ? crs.toDegrees(x, y) : crs.toDegrees(y, x))
    ? ' They would fit the other way round.'
    : ''
  return say('geometry-outside-world', path, `The coordinates ${x}, ${y} lie outside ${crs.name}.${hint}`, {
    value: [x, y],
    limit: `longitude ${crs.area[0]} to ${crs.area[2]}, latitude ${crs.area[1]} to ${crs.area[3]}`,
  })
}

const round8 = (n: number) => Math.round(n * 1e8) / 1e8
