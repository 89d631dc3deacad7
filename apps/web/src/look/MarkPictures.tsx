import { type RiskWord, riskWords } from '@underbough/model'
import { cssPaint, TreeMark } from '@underbough/pictures'
import { capital } from './words.ts'

/** 0 for a tree that has no rating, 1 to 4 from low to extreme. */
export const riskRank = (risk: RiskWord | null): number => (risk ? riskWords.indexOf(risk) + 1 : 0)
/** The word of a rank; null for 0. */
export const riskWordOf = (rank: number): RiskWord | null => riskWords[rank - 1] ?? null

/** A risk word beside its mark, always in ink. `none` is what stands for a tree that has no rating. */
export function RiskLabel(props: {
  risk: RiskWord | null
  overdue?: boolean
  visited?: boolean
  none?: string
}) {
  const { risk, overdue, visited, none = 'Not yet rated' } = props
  return (
    <span className="risk-label">
      <TreeMark risk={risk} overdue={overdue} visited={visited} boxPx={30} hidden />
      <span className="b">{risk ? capital(risk) : none}</span>
    </span>
  )
}

/** Patterns that drawings on the page refer to: `url(#hatch)` for where a fall lies, `url(#not-reached)`. The shell has them once. */
export function Fills() {
  return (
    <svg className="fills" aria-hidden="true">
      <defs>
        <pattern id="hatch" width="4" height="4" patternUnits="userSpaceOnUse">
          <path d="M0 4L4 0" stroke={cssPaint('ink-3')} strokeWidth=".6" opacity=".5" />
        </pattern>
        <pattern id="not-reached" width="6" height="6" patternUnits="userSpaceOnUse">
          <rect width="6" height="6" fill={cssPaint('sunk')} />
          <path d="M0 6L6 0M-1 1L1 -1M5 7L7 5" stroke={cssPaint('edge')} strokeWidth=".8" />
        </pattern>
      </defs>
    </svg>
  )
}
