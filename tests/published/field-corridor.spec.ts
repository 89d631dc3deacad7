import fc from 'fast-check'
import { Geodesic } from 'geographiclib-geodesic'
import { describe, expect, it } from 'vitest'
import { corridorTiles, overviewTiles, tilesOver } from '../../apps/server/src/days/corridor.ts'

const { WGS84 } = Geodesic

/**
 * The tile of a place by the formulas of OGC 17-083r4 (Two Dimensional Tile Matrix Set, WebMercatorQuad): the spherical
 * Mercator square of EPSG:3857, rows counted from the north.
 */
function tileOf(lon: number, lat: number, zoom: number): string {
  const half = Math.PI * 6378137
  const x = (lon * half) / 180
  const y = 6378137 * Math.log(Math.tan(Math.PI / 4 + (lat * Math.PI) / 360))
  const span = (2 * half) / 2 ** zoom
  return `${zoom}/${Math.floor((x + half) / span)}/${Math.floor((half - y) / span)}`
}
const names = (tiles: { z: number; x: number; y: number }[]) =>
  new Set(tiles.map(({ z, x, y }) => `${z}/${x}/${y}`))

describe('the map along a way', () => {
  it('holds the tile of every place within 300 m of the way, by geodesics (Karney)', () => {
    const place = fc.tuple(
      fc.double({ min: -0.02, max: 0.02, noNaN: true }),
      fc.double({ min: -0.02, max: 0.02, noNaN: true }),
    )
    fc.assert(
      fc.property(
        fc.double({ min: -170, max: 170, noNaN: true }),
        fc.double({ min: -60, max: 70, noNaN: true }),
        fc.array(place, { minLength: 2, maxLength: 5 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.double({ min: 0, max: 300, noNaN: true }),
        (lon, lat, steps, share, bearing, metres) => {
          const way = steps.map(([e, n]): [number, number] => [lon + e, lat + n])
          const [from, to] = [way[0]!, way[1]!]
          const on = [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share] as const
          const { lon2, lat2 } = WGS84.Direct(on[1], on[0], bearing, metres)
          const tiles = names(corridorTiles(way, 300, 12, 16))
          for (let zoom = 12; zoom <= 16; zoom++) expect(tiles).toContain(tileOf(lon2!, lat2!, zoom))
        },
      ),
      { numRuns: 300 },
    )
  })

  it('is a strip and not the whole box: a way of 10 km takes less than a third of it', () => {
    const { lon2, lat2 } = WGS84.Direct(-31.67, -8.25, 45, 10_000)
    const strip = corridorTiles(
      [
        [-8.25, -31.67],
        [lon2!, lat2!],
      ],
      300,
      17,
      17,
    ).length
    const box = tilesOver([-8.25, -31.67, lon2!, lat2!], 17).length
    expect(strip).toBeLessThan(box / 3)
    expect(strip).toBeGreaterThan(box / 40)
  })

  it('shows the whole ground from afar, and no zoom that is too near for that', () => {
    const ground = [-8.3, -31.72, -8.2, -31.62] as const
    const tiles = overviewTiles(ground, 4, 16)
    expect(names(tiles)).toContain(tileOf(-8.25, -31.67, 4))
    expect(names(tiles)).toContain(tileOf(-8.21, -31.63, 11))
    expect(tiles.some((tile) => tile.z === 16)).toBe(false)
  })
})
