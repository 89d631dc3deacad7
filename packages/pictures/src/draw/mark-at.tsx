import { type TreeMarkSpec, treeShapes } from '../marks/tree.ts'
import { cssPaint } from '../palette/paint.ts'
import { n } from './shape.ts'
import { Shapes } from './shape-view.tsx'

/** A tree's mark inside a picture. */
export function MarkAt({ x, y, size = 1, ...spec }: TreeMarkSpec & { x: number; y: number; size?: number }) {
  const grow = size === 1 ? '' : ` scale(${n(size)})`
  return (
    <g transform={`translate(${n(x)} ${n(y)})${grow}`}>
      <Shapes of={treeShapes(spec, cssPaint)} />
    </g>
  )
}
