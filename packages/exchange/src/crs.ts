import { done, type Outcome, type Position, type Refusal, refused } from '@underbough/model'
import proj4 from 'proj4'
import { say } from './codes.ts'
import { shiftsFor } from './datum.ts'

/** A reference system made ready: from its own numbers to WGS84, and where on earth it is meant for. */
export interface Crs {
  name: string
  /** First coordinate east (or longitude), second north (or latitude). `null` where the numbers mean nothing there. */
  toDegrees(x: number, y: number): Position | null
  /** West, south, east, north in degrees. */
  area: [number, number, number, number]
  notes: Refusal[]
}

/** How far outside its stated area a system may still be used: towns at the edge keep their neighbour's zone. Assumption. */
const AREA_MARGIN_DEG = 2

const WGS84: Crs = {
  name: 'WGS84',
  area: [-180, -90, 180, 90],
  notes: [],
  toDegrees: (x, y) => (Math.abs(x) <= 180 && Math.abs(y) <= 90 ? [x, y] : null),
}

/**
 * A reference system by name: `WGS84`, `EPSG:4326`, or `EPSG:` and any number of the EPSG dataset.
 * Coordinates are taken east first whatever the system's own axis order is; see `axes.ts`.
 * @returns notes of `crs-approximate` where the datum is reached by a shift that is not exact; refused with `crs-unknown`
 */
export async function findCrs(name: string): Promise<Outcome<Crs>> {
  if (/^(wgs ?84|crs84|ogc:crs84|epsg:4326|4326)$/i.test(name.trim())) return done(WGS84)
  const code = /^(?:epsg:+)?(\d{4,6})$/i.exec(name.trim())?.[1]
  // The index is 8 MB, so it is loaded only when a file needs it.
  const index = code ? (await import('epsg-index/all.json')).default : null
  const entry = code ? (index as unknown as Record<string, EpsgEntry | undefined>)[code] : undefined
  if (!entry?.proj4)
    return refused(
      say(
        'crs-unknown',
        'crs',
        `No reference system is called “${name}”. Write WGS84, or EPSG: and its number.`,
        {
          value: name,
        },
      ),
    )
  return projected(`EPSG:${code}`, entry)
}

interface EpsgEntry {
  name: string
  proj4: string | null
  /** North, west, south, east. */
  bbox: [number, number, number, number] | null
}

function projected(name: string, entry: EpsgEntry): Outcome<Crs> {
  const shifts = shiftsFor(entry.proj4!)
  if (!shifts)
    return refused(
      say(
        'crs-unknown',
        'crs',
        `${name} (${entry.name}) needs a shift grid that is not here. Convert the file first.`,
        {
          value: name,
        },
      ),
    )
  const [north, west, south, east] = entry.bbox ?? [90, -180, -90, 180]
  const area = grown(west, south, east, north)
  const converters = shifts.bands.map((band) => ({ ...band, to: proj4(band.proj4, 'WGS84') }))
  const notes = shifts.accuracyM ? [approximate(name, entry.name, shifts.accuracyM)] : []
  const toDegrees = (x: number, y: number): Position | null => {
    let at = forward(converters[0]!.to, x, y)
    const band = at && converters.find((c) => at![1] >= c.fromLatitude && at![1] < c.toLatitude)
    if (band && band !== converters[0]) at = forward(band.to, x, y)
    return at && within(area, at) ? at : null
  }
  return done({ name, area, notes, toDegrees }, notes)
}

const approximate = (name: string, title: string, accuracyM: number) =>
  say('crs-approximate', 'crs', `${name} (${title}) reaches WGS84 within about ${accuracyM} m only.`, {
    value: name,
    limit: `about ${accuracyM} m`,
  })

function forward(converter: proj4.Converter, x: number, y: number): Position | null {
  try {
    const [lon, lat] = converter.forward([x, y]) as [number, number]
    return Number.isFinite(lon) && Number.isFinite(lat) ? [lon, lat] : null
  } catch {
    return null
  }
}

function grown(west: number, south: number, east: number, north: number): Crs['area'] {
  const m = AREA_MARGIN_DEG
  return [west - m, Math.max(-90, south - m), east + m, Math.min(90, north + m)]
}

/** A system may straddle the antimeridian; then its west lies east of its east. */
function within([west, south, east, north]: Crs['area'], [lon, lat]: Position): boolean {
  const inside = west <= east ? lon >= west && lon <= east : lon >= west || lon <= east
  return inside && lat >= south && lat <= north && Math.abs(lon) <= 180
}
