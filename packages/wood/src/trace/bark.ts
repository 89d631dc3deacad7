import type { Named } from './naming.ts'
import type { Piece } from './pieces.ts'

/** What is known of the bark and of the stem before the trace is read. */
export interface TraceHints {
  /** Thickness measured at the entry point. */
  barkHintCm?: number
  radiusCm?: number
}

/** Bark is taken for bark up to this thickness, and to a third of the radius; more is asked for (common practice, no source). */
const most = { barkCm: 5, ofRadius: 1 / 3 }
/** What the record takes for bark. */
const thickestCm = 30

/**
 * Where the bark ends: the change nearest to a measured thickness, or that thickness itself; without one the end of the low beginning of the
 * trace. null where it begins firm, or stays low too long to be bark alone.
 */
export function barkOf(
  pieces: Piece[],
  segments: Named[],
  { barkHintCm, radiusCm }: TraceHints,
): number | null {
  if (barkHintCm !== undefined) {
    const reach = Math.max(0.5, 0.3 * barkHintCm)
    const near = (list: readonly { fromCm: number }[]) =>
      list
        .map(({ fromCm }) => fromCm)
        .filter((atCm) => atCm > 0 && atCm <= thickestCm && Math.abs(atCm - barkHintCm) <= reach)
        .sort((a, b) => Math.abs(a - barkHintCm) - Math.abs(b - barkHintCm))[0]
    return near(segments) ?? near(pieces) ?? barkHintCm
  }
  const mostCm = Math.min(most.barkCm, most.ofRadius * (radiusCm ?? Number.POSITIVE_INFINITY))
  const firm = segments.findIndex(({ condition }) => condition === 'sound')
  if (firm === 0) return null
  const lowToCm = firm > 0 ? segments[firm].fromCm : Number.POSITIVE_INFINITY
  if (lowToCm <= mostCm) return lowToCm
  const firstChangeCm = pieces[1]?.fromCm ?? Number.POSITIVE_INFINITY
  return firstChangeCm <= mostCm ? firstChangeCm : null
}

/** The segments from the bark inwards. */
export function underBark(segments: Named[], barkCm: number | null): Named[] {
  if (barkCm === null) return segments
  return segments
    .filter(({ toCm }) => toCm > barkCm + 0.1)
    .map((segment) => ({ ...segment, fromCm: Math.max(segment.fromCm, barkCm) }))
}
