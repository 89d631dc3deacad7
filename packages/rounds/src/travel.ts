import { type CivilDate, done, type Outcome, planeAt, refusal, refused } from '@underbough/model'

/** A place a crew goes to or from. `key` is `visit:<id>`, `start:<crew id>` or `end:<crew id>`. */
export interface TravelPoint {
  key: string
  longitude: number
  latitude: number
}

/** Ways between points, with where they come from. */
export interface TravelMatrix {
  /** Whole seconds, row by row: `seconds[from * count + to]`; `noWaySeconds` where there is none. */
  seconds: Int32Array
  /** Metres from one point to another, by their places in the list. */
  metres(from: number, to: number): number
  source: string
  asOf: CivilDate | null
}

/** Anything that can say how long the ways between a list of points take. A routing engine is asked beforehand, then handed in with `matrixTravel`. */
export interface TravelModel {
  matrix(points: readonly TravelPoint[]): Outcome<TravelMatrix>
}

/** Stands for “no way at all”: over three years. */
export const noWaySeconds = 100_000_000

/** How a straight line becomes minutes. */
export interface StraightLine {
  /** Way over straight line, at least 1. By site. */
  detourFactor: number
  walkMetresPerSecond: number
  driveMetresPerSecond: number
  /** Minutes to park and get out, added to every drive. */
  parkMinutes: number
}

/** Assumption: 1.3 for a street grid, a walk of 4.5 km/h, 21.6 km/h through town, one minute to park. */
export const defaultStraightLine: Readonly<StraightLine> = {
  detourFactor: 1.3,
  walkMetresPerSecond: 1.25,
  driveMetresPerSecond: 6,
  parkMinutes: 1,
}

/**
 * Ways by planar straight line × detour factor, walked or driven (with parking), whichever is faster.
 * It does not follow where the vehicle was left. Refuses a factor below 1 or a speed that is not positive (`out-of-range`).
 */
export function straightLineTravel(settings: Partial<StraightLine> = {}): TravelModel {
  const line = { ...defaultStraightLine, ...settings }
  return {
    matrix(points) {
      const wrong = settingsRefusal(line)
      if (wrong) return refused(wrong)
      const { x, y } = onPlane(points)
      const count = points.length
      const seconds = new Int32Array(count * count)
      const walk = line.detourFactor / line.walkMetresPerSecond
      const drive = line.detourFactor / line.driveMetresPerSecond
      const park = line.parkMinutes * 60
      for (let i = 0; i < count; i++)
        for (let j = 0; j < i; j++) {
          const dx = x[i] - x[j]
          const dy = y[i] - y[j]
          const straightM = Math.sqrt(dx * dx + dy * dy)
          const way = Math.round(Math.min(straightM * walk, straightM * drive + park, noWaySeconds))
          seconds[i * count + j] = way
          seconds[j * count + i] = way
        }
      const metres = (from: number, to: number) =>
        Math.round(Math.hypot(x[from] - x[to], y[from] - y[to]) * line.detourFactor)
      return done({ seconds, metres, source: sourceOf(line), asOf: null })
    },
  }
}

function settingsRefusal(line: StraightLine) {
  if (!(line.detourFactor >= 1 && line.detourFactor <= 10))
    return refusal('out-of-range', 'travel.detourFactor', { value: line.detourFactor, limit: '1 to 10' })
  for (const key of ['walkMetresPerSecond', 'driveMetresPerSecond'] as const)
    if (!(line[key] > 0 && line[key] <= 50))
      return refusal('out-of-range', `travel.${key}`, { value: line[key], limit: 'above 0, at most 50 m/s' })
  if (!(line.parkMinutes >= 0 && line.parkMinutes <= 120))
    return refusal('out-of-range', 'travel.parkMinutes', { value: line.parkMinutes, limit: '0 to 120 min' })
  return null
}

function sourceOf(line: StraightLine): string {
  return `straight line × ${line.detourFactor}, the faster of walking at ${line.walkMetresPerSecond} m/s and driving at ${line.driveMetresPerSecond} m/s with ${line.parkMinutes} min to park`
}

function onPlane(points: readonly TravelPoint[]): { x: Float64Array; y: Float64Array } {
  const x = new Float64Array(points.length)
  const y = new Float64Array(points.length)
  if (points.length === 0) return { x, y }
  const plane = planeAt(points[0].longitude, points[0].latitude)
  points.forEach((p, i) => {
    const [east, north] = plane.toMetres(p.longitude, p.latitude)
    x[i] = east
    y[i] = north
  })
  return { x, y }
}

/** A matrix worked out elsewhere: `keys[i]` names what row and column i stand for; several keys may share a row through `sameAs`. */
export interface GivenMatrix {
  keys: readonly string[]
  /** Row by row; NaN, infinity or a negative number where there is no way. */
  seconds: ArrayLike<number>
  metres: ArrayLike<number>
  source: string
  asOf: CivilDate | null
  /** Further key → key of the row it shares. */
  sameAs?: Readonly<Record<string, string>> | undefined
}

/** Ways from a matrix worked out elsewhere (a routing engine, a walking graph). Refuses a matrix of the wrong size (`malformed`) or a point it lacks (`unknown`). */
export function matrixTravel(given: GivenMatrix): TravelModel {
  const size = given.keys.length
  const row = new Map(given.keys.map((key, i) => [key, i]))
  for (const [key, same] of Object.entries(given.sameAs ?? {})) {
    const at = row.get(same)
    if (at !== undefined) row.set(key, at)
  }
  return {
    matrix(points) {
      if (given.seconds.length !== size * size || given.metres.length !== size * size)
        return refused(
          refusal('malformed', 'travel', { limit: `${size} × ${size} numbers`, value: given.seconds.length }),
        )
      const rows = points.map((p) => row.get(p.key))
      const lacking = points.filter((_, i) => rows[i] === undefined)
      if (lacking.length > 0)
        return refused(...lacking.map((p) => refusal('unknown', 'travel.keys', { value: p.key })))
      const at = Int32Array.from(rows as number[])
      const seconds = new Int32Array(at.length * at.length)
      for (let i = 0; i < at.length; i++)
        for (let j = 0; j < at.length; j++) {
          const way = given.seconds[at[i] * size + at[j]]
          seconds[i * at.length + j] = way >= 0 && way < noWaySeconds ? Math.round(way) : noWaySeconds
        }
      return done({
        seconds,
        metres: (from, to) => given.metres[at[from] * size + at[to]],
        source: given.source,
        asOf: given.asOf,
      })
    },
  }
}
