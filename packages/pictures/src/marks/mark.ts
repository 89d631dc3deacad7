import type { ZoneKind } from '@underbough/model'
import { n, type Shape, svgText } from '../draw/shape.ts'
import type { Palette } from '../palette/colours.ts'
import { type Paint, paintFrom } from '../palette/paint.ts'
import { type CellMarkSpec, cellShapes, describeCellMark, discRadiusPx } from './cell.ts'
import { type CrewTagSpec, crewTagShapes, crewTagText, crewTagWidthPx } from './crews.ts'
import { describeTreeMark, type TreeMarkSpec, treeMarkHalfPx, treeShapes } from './tree.ts'
import { zoneNames, zoneTilePx, zoneTileShapes } from './zones.ts'

/** Anything the map shows as an image. */
export type MarkSpec =
  | ({ mark: 'tree' /** 1 at full size, 0.7 in wide views. */; size?: number } & TreeMarkSpec)
  | ({ mark: 'cell'; size?: number } & CellMarkSpec)
  | ({ mark: 'tag' } & CrewTagSpec)
  | { mark: 'zone'; kind: ZoneKind }

/** A mark in place: shapes, and the box they need, px at 1×. Trees, cells and tags have their anchor at its centre. */
export interface PlacedMark {
  shapes: Shape[]
  /** Left, top, width, height. */
  box: readonly [number, number, number, number]
  says: string
}

const centred = (half: number, size = 1): PlacedMark['box'] => {
  const h = Math.ceil(half * size)
  return [-h, -h, 2 * h, 2 * h]
}
const sized = (shapes: Shape[], size = 1): Shape[] =>
  size === 1 ? shapes : [{ tag: 'g', at: { transform: `scale(${n(size)})` }, inside: shapes }]

/** The shapes and the box of any mark. */
export function placeMark(spec: MarkSpec, paint: Paint): PlacedMark {
  switch (spec.mark) {
    case 'tree':
      return {
        shapes: sized(treeShapes(spec, paint), spec.size),
        box: centred(treeMarkHalfPx(spec), spec.size),
        says: describeTreeMark(spec),
      }
    case 'cell': {
      const below = spec.label === false ? 3 : 16
      return {
        shapes: sized(cellShapes(spec, paint), spec.size),
        box: centred(discRadiusPx(spec) + below, spec.size),
        says: describeCellMark(spec),
      }
    }
    case 'tag': {
      const half = Math.ceil(crewTagWidthPx(spec)) + 1
      return {
        shapes: crewTagShapes(spec, paint),
        box: [-half, -8, 2 * half, 16],
        says: spec.order === null ? `Crew ${spec.letter}` : `Stop ${spec.order} of crew ${spec.letter}`,
      }
    }
    case 'zone':
      return {
        shapes: zoneTileShapes(spec.kind, paint),
        box: [0, 0, zoneTilePx, zoneTilePx],
        says: zoneNames[spec.kind],
      }
  }
}

/**
 * A mark as a standing SVG document in real colours, for a map's images. `scale` is the pixel ratio: width and height are
 * the box times it. Marks are centred on what they mark; zone tiles repeat without a seam.
 */
export function markSvg(
  spec: MarkSpec,
  palette: Palette,
  scale = 1,
): { svg: string; width: number; height: number } {
  const { shapes, box } = placeMark(spec, paintFrom(palette))
  const width = Math.round(box[2] * scale)
  const height = Math.round(box[3] * scale)
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${box.map(n).join(' ')}" width="${width}" height="${height}">${svgText(shapes)}</svg>`
  return { svg, width, height }
}

/** A name for a mark's image in a map's style: the same for the same drawing. */
export function markKey(spec: MarkSpec): string {
  switch (spec.mark) {
    case 'tree':
      return [
        'tree',
        spec.outside ? 'outside' : (spec.risk ?? 'unrated'),
        spec.status ?? 'standing',
        spec.overdue && 'overdue',
        spec.visited === false && 'unvisited',
        spec.selected && 'selected',
        spec.size,
      ]
        .filter((part) => part !== undefined && part !== false)
        .join('-')
    case 'cell': {
      const { low, moderate, high, extreme } = spec.counts
      const label = spec.label === false ? '-bare' : ''
      return `cell-${low}-${moderate}-${high}-${extreme}-${spec.unrated ?? 0}-${spec.overdue}-${spec.size ?? 1}${label}`
    }
    case 'tag':
      return `tag-${crewTagText(spec)}-${spec.side ?? 'right'}`
    case 'zone':
      return `zone-${spec.kind}`
  }
}
