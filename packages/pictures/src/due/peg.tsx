import type { CivilDate } from '@underbough/model'
import type { SVGProps } from 'react'
import { Line } from '../draw/picture.tsx'
import { n } from '../draw/shape.ts'

export type PegProps = SVGProps<SVGGElement>

/** A peg; with its own props it is a slider that answers to pointer and keys. */
export function Peg({
  x,
  basePx,
  name,
  week,
  own,
}: {
  x: number
  basePx: number
  name: string
  week: CivilDate
  own?: PegProps | undefined
}) {
  const slider = own && {
    role: 'slider',
    tabIndex: 0,
    'aria-label': name,
    'aria-valuetext': `week of ${week}`,
    ...own,
    style: { cursor: 'ew-resize', touchAction: 'none', ...own.style },
  }
  return (
    <g {...slider} data-part="peg">
      {own && <rect x={n(x - 14)} y={0} width={28} height={n(basePx)} fill="transparent" />}
      <Line from={[x, 10]} to={[x, basePx + 1]} tone="accent" width={2} />
      <path d={`M${n(x - 5)} 8h10v9l-5 5l-5 -5Z`} fill="var(--accent)" />
    </g>
  )
}
