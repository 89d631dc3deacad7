import {
  done,
  type Outcome,
  type Refusal,
  refusal,
  refused,
  type WoodSegment,
  woodSegments,
} from '@underbough/model'

/** The thinnest segment that a moved border leaves, cm. */
export const thinnestSegmentCm = 0.1

/** A depth at which one segment ends, another begins, or both. Segments are told by their place in the list. */
export interface TraceBorder {
  atCm: number
  ends: number | null
  begins: number | null
}

/** The borders of segments, from the bark inwards. Two segments that touch share one. */
export function bordersOf(segments: readonly WoodSegment[]): TraceBorder[] {
  return segments.flatMap(({ fromCm, toCm }, i) => {
    const next = segments[i + 1]
    const shared = next !== undefined && Math.abs(next.fromCm - toCm) < 1e-6
    const touchesBefore = i > 0 && Math.abs(segments[i - 1].toCm - fromCm) < 1e-6
    return [
      ...(touchesBefore ? [] : [{ atCm: fromCm, ends: null, begins: i }]),
      { atCm: toCm, ends: i, begins: shared ? i + 1 : null },
    ]
  })
}

/**
 * Moves border `index` of `bordersOf(segments)` as near to `toCm` as the others let it: every segment stays at least 0.1 cm thick, none
 * covers another, and none goes past `endCm`, where the trace ends. A gap stays a gap, of at least 0.1 cm: dragging reads no wood into it.
 * Gives new segments; a border that does not exist moves nothing.
 */
export function moveBorder(
  segments: readonly WoodSegment[],
  index: number,
  toCm: number,
  endCm = Number.POSITIVE_INFINITY,
): WoodSegment[] {
  const borders = bordersOf(segments)
  const border = borders[index]
  if (!border || !Number.isFinite(toCm)) return [...segments]
  const { ends, begins } = border
  const least = index > 0 ? borders[index - 1].atCm + thinnestSegmentCm : 0
  const most = index + 1 < borders.length ? borders[index + 1].atCm - thinnestSegmentCm : endCm
  // Where segments are thinner than that already, the border stays.
  const atCm = least <= most ? Math.min(Math.max(toCm, least), most) : border.atCm
  return segments.map((segment, i) => ({
    ...segment,
    ...(i === ends ? { toCm: atCm } : {}),
    ...(i === begins ? { fromCm: atCm } : {}),
  }))
}

/** What a person stands by, ready to be recorded. */
export interface AcceptedBorders {
  barkCm: number
  segments: WoodSegment[]
  /** Whether it differs from what was proposed, by more than a hundredth of a centimetre or in a name. */
  moved: boolean
}

/**
 * Checks borders before a person stands by them. Refusals: `required` (no bark thickness), `segment-backwards`, `segments-overlap`,
 * `out-of-range` (a segment within the bark or past the end of the trace).
 */
export function acceptBorders(
  proposed: { barkCm: number | null; segments: readonly WoodSegment[] },
  accepted: { barkCm: number | null; segments: readonly WoodSegment[] },
  endCm: number,
): Outcome<AcceptedBorders> {
  const { barkCm } = accepted
  if (barkCm === null) return refused(refusal('required', 'barkCm'))
  const segments = accepted.segments.map((segment) => ({ ...segment }))
  const faults = [...shapeFaults(segments), ...placeFaults(segments, barkCm, endCm)]
  if (faults.length > 0) return refused(...faults)
  return done({ barkCm, segments, moved: differs(proposed, { barkCm, segments }) })
}

function shapeFaults(segments: WoodSegment[]): Refusal[] {
  const parsed = woodSegments.safeParse(segments)
  if (parsed.success) return []
  return parsed.error.issues.map((issue) => {
    const own = issue.code === 'custom' ? issue.params?.code : undefined
    const code = own === 'segment-backwards' || own === 'segments-overlap' ? own : 'out-of-range'
    return refusal(code, ['segments', ...issue.path].join('.'), { message: issue.message })
  })
}

function placeFaults(segments: WoodSegment[], barkCm: number, endCm: number): Refusal[] {
  const slack = 0.005
  return segments.flatMap(({ fromCm, toCm }, i) => [
    ...(fromCm < barkCm - slack
      ? [
          refusal('out-of-range', `segments.${i}.fromCm`, {
            value: fromCm,
            limit: `from the bark's end, ${barkCm} cm`,
          }),
        ]
      : []),
    ...(toCm > endCm + slack
      ? [
          refusal('out-of-range', `segments.${i}.toCm`, {
            value: toCm,
            limit: `to the trace's end, ${endCm} cm`,
          }),
        ]
      : []),
  ])
}

type Borders = { barkCm: number | null; segments: readonly WoodSegment[] }

function differs(a: Borders, b: Borders): boolean {
  const apart = (x: number, y: number) => Math.abs(x - y) > 0.01 + 1e-9
  return (
    a.barkCm === null ||
    b.barkCm === null ||
    apart(a.barkCm, b.barkCm) ||
    a.segments.length !== b.segments.length ||
    a.segments.some((segment, i) => {
      const other = b.segments[i]
      return (
        segment.condition !== other.condition ||
        apart(segment.fromCm, other.fromCm) ||
        apart(segment.toCm, other.toCm)
      )
    })
  )
}
