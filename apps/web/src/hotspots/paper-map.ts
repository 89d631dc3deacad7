import { type AreaGeometry, type Position, planeAt } from '@underbough/model'
import type { Geometry } from 'geojson'
import type { Bounds } from '../map/index.ts'

/** A place on the sheet, px. */
export type OnSheet = [x: number, y: number]

export interface Sheet {
  widthPx: number
  heightPx: number
  pxPerM: number
  at(place: Position): OnSheet
  bounds: Bounds
}

const LEAST_SPAN_M = 120
const MARGIN = 0.06

/** The frame that holds these places with a margin, to scale, north up, no taller than `mostHeightPx`. Planar about its middle. */
export function sheetOf(places: readonly Position[], widthPx: number, mostHeightPx: number): Sheet {
  const lons = places.map(([lon]) => lon)
  const lats = places.map(([, lat]) => lat)
  const middle: Position = [
    (Math.min(...lons) + Math.max(...lons)) / 2,
    (Math.min(...lats) + Math.max(...lats)) / 2,
  ]
  const plane = planeAt(middle[0], middle[1])
  const metres = places.map(([lon, lat]) => plane.toMetres(lon, lat))
  const reach = (axis: 0 | 1) => 2 * Math.max(...metres.map((m) => Math.abs(m[axis])), LEAST_SPAN_M / 2)
  const wideM = reach(0) * (1 + 2 * MARGIN)
  const tallM = reach(1) * (1 + 2 * MARGIN)
  const pxPerM = Math.min(widthPx / wideM, mostHeightPx / tallM)
  const heightPx = Math.min(mostHeightPx, Math.max(widthPx * 0.42, tallM * pxPerM))
  const corner = (x: number, y: number) =>
    plane.toDegrees((x - widthPx / 2) / pxPerM, (heightPx / 2 - y) / pxPerM)
  const [west, north] = corner(0, 0)
  const [east, south] = corner(widthPx, heightPx)
  return {
    widthPx,
    heightPx,
    pxPerM,
    at: ([lon, lat]) => {
      const [e, n] = plane.toMetres(lon, lat)
      return [widthPx / 2 + e * pxPerM, heightPx / 2 - n * pxPerM]
    },
    bounds: [west, south, east, north],
  }
}

/** Lines and rings of a geometry as one SVG path; points draw nothing. */
export function pathOn(sheet: Sheet, geometry: Geometry | AreaGeometry): string {
  const line = (points: readonly (readonly number[])[], close: boolean) =>
    `${points
      .map((p, i) => {
        const [x, y] = sheet.at([p[0]!, p[1]!])
        return `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`
      })
      .join('')}${close ? 'Z' : ''}`
  switch (geometry.type) {
    case 'Polygon':
      return geometry.coordinates.map((ring) => line(ring, true)).join('')
    case 'MultiPolygon':
      return geometry.coordinates
        .flat()
        .map((ring) => line(ring, true))
        .join('')
    case 'LineString':
      return line(geometry.coordinates, false)
    case 'MultiLineString':
      return geometry.coordinates.map((points) => line(points, false)).join('')
    default:
      return ''
  }
}

/** Numbers moved apart until none lies on another, each still near its place; the first keep theirs. */
export function apart(places: readonly OnSheet[], sidePx: number): OnSheet[] {
  const placed: OnSheet[] = []
  for (const [x, y] of places) {
    let best: OnSheet = [x, y]
    for (let ring = 0; ring < 12; ring++) {
      const tries = ring === 0 ? 1 : 8 * ring
      const free = Array.from({ length: tries }, (_, i): OnSheet => {
        const angle = (2 * Math.PI * i) / tries
        return [x + ring * 0.5 * sidePx * Math.cos(angle), y + ring * 0.5 * sidePx * Math.sin(angle)]
      }).find(([a, b]) =>
        placed.every(([c, d]) => Math.abs(a - c) >= sidePx * 1.15 || Math.abs(b - d) >= sidePx * 1.05),
      )
      if (free) {
        best = free
        break
      }
    }
    placed.push(best)
  }
  return placed
}

/** A round length for a scale bar of at most `mostPx`. */
export function barLengthM(pxPerM: number, mostPx: number): number {
  const most = mostPx / pxPerM
  const power = 10 ** Math.floor(Math.log10(most))
  return ([5, 2, 1].find((k) => k * power <= most) ?? 1) * power
}
