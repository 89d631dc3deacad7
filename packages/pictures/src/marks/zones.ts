import type { ZoneKind } from '@underbough/model'
import { circle, path, type Shape, shape } from '../draw/shape.ts'
import type { ColourToken } from '../palette/colours.ts'
import type { Paint } from '../palette/paint.ts'

/** What a zone is called in a key. */
export const zoneNames: Readonly<Record<ZoneKind, string>> = {
  building: 'building',
  road: 'road',
  footpath: 'footpath',
  play: 'play area',
  seating: 'seating',
  parking: 'parking',
  utility: 'utility',
}

/** Side of every tile, px. A power of two, so that a map repeats it without a seam at 1× and 2×. */
export const zoneTilePx = 16
const THIRD = zoneTilePx / 3

/** Outline of each kind, px. Pattern first, tint second, line kind third. */
export const zoneLines: Readonly<Record<ZoneKind, { widthPx: number; dashPx: readonly number[] }>> = {
  building: { widthPx: 1.5, dashPx: [] },
  road: { widthPx: 1.1, dashPx: [] },
  footpath: { widthPx: 0.8, dashPx: [3, 2] },
  play: { widthPx: 1.2, dashPx: [] },
  seating: { widthPx: 1.2, dashPx: [] },
  parking: { widthPx: 1, dashPx: [] },
  utility: { widthPx: 1.1, dashPx: [7, 2, 1.5, 2] },
}

type Tile = (ink: string) => Shape[]
const line = (ink: string, d: string, width = 1) => path(d, { stroke: ink, 'stroke-width': width })
const grid = (step: number, place: (x: number, y: number) => Shape[]): Shape[] => {
  const count = Math.round(zoneTilePx / step)
  return Array.from({ length: count * count }, (_, i) =>
    place((i % count) * step, Math.floor(i / count) * step),
  ).flat()
}

const tiles: Readonly<Record<ZoneKind, Tile>> = {
  building: (ink) => [line(ink, 'M-2 10L10 -2M-2 18L18 -2M6 18L18 6', 1)],
  road: () => [],
  footpath: (ink) =>
    grid(THIRD, (x, y) => [
      circle(0.75, { cx: x + THIRD * 0.25, cy: y + THIRD * 0.25, fill: ink }),
      circle(0.75, { cx: x + THIRD * 0.75, cy: y + THIRD * 0.75, fill: ink }),
    ]),
  play: (ink) =>
    grid(8, (x, y) => [circle(2.1, { cx: x + 4, cy: y + 4, fill: 'none', stroke: ink, 'stroke-width': 1 })]),
  seating: (ink) =>
    [0, THIRD, THIRD * 2].map((y) =>
      line(
        ink,
        `M-4 ${(y + 1.3).toFixed(2)}L0 ${(y + 4).toFixed(2)}L4 ${(y + 1.3).toFixed(2)}L8 ${(y + 4).toFixed(2)}L12 ${(y + 1.3).toFixed(2)}L16 ${(y + 4).toFixed(2)}L20 ${(y + 1.3).toFixed(2)}`,
      ),
    ),
  parking: (ink) => grid(8, (x, y) => [line(ink, `M${x + 4} ${y + 1}V${y + 6}`, 1.1)]),
  utility: (ink) => grid(8, (x, y) => [line(ink, `M${x + 2} ${y + 4}H${x + 6}M${x + 4} ${y + 2}V${y + 6}`)]),
}

/** One repeatable tile, `zoneTilePx` square: tint and pattern in one image. */
export function zoneTileShapes(kind: ZoneKind, paint: Paint): Shape[] {
  const tint = paint(`zone-${kind}` as ColourToken)
  return [
    shape('rect', { width: zoneTilePx, height: zoneTilePx, fill: tint }),
    ...tiles[kind](paint('zone-ink')),
  ]
}
