import type { Position } from '@underbough/model'

/** Units along the side of a tile. */
export const EXTENT = 4096
/** The web's square projection stops here. */
const LAST_LATITUDE = 85.051129

export interface Tile {
  z: number
  x: number
  y: number
}

/** Units of a tile east of its west edge, not rounded. */
export const unitsEast = ({ z, x }: Tile, longitude: number): number =>
  (((longitude + 180) / 360) * 2 ** z - x) * EXTENT

/** Units of a tile south of its north edge, not rounded. */
export function unitsSouth({ z, y }: Tile, latitude: number): number {
  const sin = Math.sin((Math.max(-LAST_LATITUDE, Math.min(LAST_LATITUDE, latitude)) * Math.PI) / 180)
  const down = 0.5 - Math.log((1 + sin) / (1 - sin)) / (4 * Math.PI)
  return (down * 2 ** z - y) * EXTENT
}

/** Longitude and latitude to the units of a tile, east and south of its north-west corner, not rounded. */
export const tileUnits = (tile: Tile, [longitude, latitude]: Position): [number, number] => [
  unitsEast(tile, longitude),
  unitsSouth(tile, latitude),
]

/** West, south, east and north of a tile in degrees, widened by `marginUnits` of its units. */
export function tileBounds({ z, x, y }: Tile, marginUnits = 0): [number, number, number, number] {
  const side = 2 ** z
  const margin = marginUnits / EXTENT
  const longitude = (at: number) => Math.max(-180, Math.min(180, (at / side) * 360 - 180))
  const latitude = (at: number) => {
    const rad = Math.atan(Math.sinh(Math.PI * (1 - (2 * at) / side)))
    return Math.max(-LAST_LATITUDE, Math.min(LAST_LATITUDE, (rad * 180) / Math.PI))
  }
  return [longitude(x - margin), latitude(y + 1 + margin), longitude(x + 1 + margin), latitude(y - margin)]
}

/** Bits of a whole place along each side of the world: units of about 4 cm at the equator. */
const PLACE_BITS = 30
/** From this zoom on, tiles are smaller than the cells whose changes are counted. */
export const CHANGES_ZOOM = 16

/** A place's bits, east and south by turns: every tile of every zoom is one range of such numbers. */
export function placeOf(x: number, y: number): bigint {
  let place = 0n
  for (let bit = 0n; bit < PLACE_BITS; bit++)
    place |= (((BigInt(x) >> bit) & 1n) << (2n * bit)) | (((BigInt(y) >> bit) & 1n) << (2n * bit + 1n))
  return place
}

/** The places of a tile: from the first up to, and without, the second. */
export function placesOf({ z, x, y }: Tile): [from: bigint, to: bigint] {
  const bits = 2n * BigInt(PLACE_BITS - z)
  const cell = placeOf(x, y)
  return [cell << bits, (cell + 1n) << bits]
}

/** Whole units of a tile east and south of its north-west corner, from a place's own. */
export function unitsOf({ z, x, y }: Tile, placeX: number, placeY: number): [number, number] {
  const unit = 2 ** (PLACE_BITS - z) / EXTENT
  return [Math.floor(placeX / unit) - x * EXTENT, Math.floor(placeY / unit) - y * EXTENT]
}

/** The tile and its eight neighbours, where there are any. */
export function around({ z, x, y }: Tile): Tile[] {
  const side = 2 ** z
  const near = (at: number) => [at - 1, at, at + 1].filter((one) => one >= 0 && one < side)
  return near(x).flatMap((nearX) => near(y).map((nearY) => ({ z, x: nearX, y: nearY })))
}

/** The tile that holds it at a lower zoom. */
export const parentOf = ({ z, x, y }: Tile, zoom: number): Tile =>
  zoom >= z
    ? { z, x, y }
    : { z: zoom, x: Math.floor(x / 2 ** (z - zoom)), y: Math.floor(y / 2 ** (z - zoom)) }
