import { type RiskWord, riskWords } from '@underbough/model'
import { circle, n } from '../draw/shape.ts'
import { Shapes } from '../draw/shape-view.tsx'
import { ringRadiiPx } from '../marks/tree.ts'
import { cssPaint, riskToken } from '../palette/paint.ts'
import { barTotal, type DueBar } from './data.ts'

export interface PlacedBar extends DueBar {
  x: number
  widthPx: number
  /** Between the pegs, or no pegs are set. */
  inside: boolean
}

/** The bars: extreme on the base line, trees not rated on top; outside the brush they keep their outline and lose weight; weeks past are cut through; a small four-ring mark stands over any with an extreme tree. */
export function Bars({
  bars,
  basePx,
  pxPerTree,
}: {
  bars: readonly PlacedBar[]
  basePx: number
  pxPerTree: number
}) {
  return bars
    .filter((bar) => barTotal(bar) > 0)
    .map((bar) => {
      const top = basePx - barTotal(bar) * pxPerTree
      return (
        <g key={bar.from} data-week={bar.from} data-total={barTotal(bar)}>
          <Stack bar={bar} basePx={basePx} pxPerTree={pxPerTree} />
          {bar.past && <SawCut bar={bar} topPx={top} basePx={basePx} />}
          {bar.counts.extreme > 0 && bar.widthPx > 5 && (
            <ExtremeMark x={bar.x + bar.widthPx / 2} y={top - 9} />
          )}
        </g>
      )
    })
}

function Stack({ bar, basePx, pxPerTree }: { bar: PlacedBar; basePx: number; pxPerTree: number }) {
  let y = basePx
  const order: (RiskWord | null)[] = [...[...riskWords].reverse(), null]
  return order.map((risk) => {
    const count = risk === null ? bar.unrated : bar.counts[risk]
    if (count <= 0) return null
    const height = count * pxPerTree
    y -= height
    const colour = cssPaint(riskToken(risk))
    const hollow = risk === null
    return (
      <rect
        key={risk ?? 'unrated'}
        data-risk={risk ?? 'unrated'}
        x={n(bar.x)}
        y={n(y + 0.6)}
        width={n(bar.widthPx)}
        height={n(Math.max(0.8, height - 1))}
        fill={hollow ? 'var(--sunk)' : colour}
        fillOpacity={bar.inside || hollow ? undefined : 0.42}
        stroke={bar.inside && !hollow ? undefined : colour}
        strokeWidth={bar.inside && !hollow ? undefined : 0.9}
        strokeDasharray={hollow ? '2 1.6' : undefined}
      />
    )
  })
}

/** Of constant width and slope, in the bar's own height. */
function SawCut({ bar, topPx, basePx }: { bar: PlacedBar; topPx: number; basePx: number }) {
  const { x, widthPx: w } = bar
  const rise = Math.min(w, basePx - topPx)
  const middle = Math.min(basePx - rise / 2, topPx + w * 0.6)
  return (
    <path
      data-part="cut"
      d={`M${n(x + w + 2)} ${n(middle - rise / 2 - 2)}L${n(x - 2)} ${n(middle + rise / 2 + 2)}`}
      stroke="var(--paper)"
      strokeWidth={n(Math.max(1.6, Math.min(5, w * 0.17, rise * 0.45)))}
    />
  )
}

function ExtremeMark({ x, y }: { x: number; y: number }) {
  const ink = cssPaint('risk-4')
  return (
    <g transform={`translate(${n(x)} ${n(y)}) scale(0.5)`} data-part="extreme">
      <Shapes
        of={[
          circle(14.2, { fill: cssPaint('paper'), opacity: 0.8 }),
          ...ringRadiiPx.map((r) => circle(r, { fill: 'none', stroke: ink, 'stroke-width': 1.9 })),
          circle(1.75, { fill: ink }),
        ]}
      />
    </g>
  )
}
