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

/** Longitude and latitude to the units of a tile, east and south of its north-west corner, not rounded. */
export function tileUnits({ z, x, y }: Tile, [longitude, latitude]: Position): [number, number] {
  const side = 2 ** z
  const sin = Math.sin((Math.max(-LAST_LATITUDE, Math.min(LAST_LATITUDE, latitude)) * Math.PI) / 180)
  const across = (longitude + 180) / 360
  const down = 0.5 - Math.log((1 + sin) / (1 - sin)) / (4 * Math.PI)
  return [(across * side - x) * EXTENT, (down * side - y) * EXTENT]
}

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
