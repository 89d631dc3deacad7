import type { WoodSegment } from '@underbough/model'
import { barkOf, type TraceHints, underBark } from './bark.ts'
import { type Bins, binned } from './bins.ts'
import { type Named, named, thresholdsOf } from './naming.ts'
import { creepOf, halfBins, piecesOf, rangeOf, withoutCreep, withoutSpikes } from './pieces.ts'
import { median, runningMean, runningMedian } from './robust.ts'
import { settled } from './settle.ts'
import { thinned } from './thin.ts'
import type { Trace, TraceCurve, TraceProposal } from './types.ts'

/** What every screen and every page with a trace says of it. */
export const traceSilence =
  'A trace shows how hard the wood is to drill. It is silent on strength and on early decay, which still resists, and beyond its end it says nothing.'

/** What the record takes. */
const mostSegments = 60

const sentences = {
  relative:
    'Levels are set beside the firmest wood of this same trace: a trace that is soft from end to end looks firm.',
  manner:
    'A trace cannot tell wood that snaps from wood that bends. Softened wood is put down as snapping, the less forgiving of the two, until somebody has looked.',
  bark: 'The trace does not show where the bark ends. Measure the bark at the entry point.',
  barkSeen: 'A low beginning is taken for bark; softened wood right under the bark looks the same.',
  gap: 'Rows are missing over some of the depth; nothing is said of it there.',
  level: 'The resistance is the same from end to end; nothing can be told from it.',
  many: `Only the first ${mostSegments} segments are proposed; beyond them nothing is said.`,
  leftStem:
    'The drill seems to have left the stem on the far side; what lies beyond is not counted as a cavity.',
}

/**
 * Proposes borders in a trace, for a person to accept or to move.
 *
 * Method `trace-1`: medians in bins of 0.5 mm or one row; lone spikes taken out (Hampel); exact change points in mean and variance; a slow
 * creep with depth estimated and taken off, then change points again; each piece named by its median between air and this trace's firm wood:
 * under 12 % void, under 60 % softened, otherwise sound. Neighbours of one name are joined, so that rings leave no border. Pieces are at
 * least 0.7 cm long; what is thinner is not seen. Never proposed: stained wood, which a drill does not feel, and anything beyond the end.
 * A border is known to 0.5 mm at best.
 */
export function proposeSegments(trace: Trace, hints: TraceHints = {}): TraceProposal {
  const even = withoutSpikes(binned(trace))
  const range = rangeOf(even)
  const drawn = thinned(trace.depthsCm, trace.resistances)
  const smoothed = smoothedCurve(even)
  if (!(range > 0)) return levelProposal(even, drawn, smoothed)

  const creepPerCm = creepOf(even, piecesOf(even, range), range)
  const level = withoutCreep(even, creepPerCm)
  const pieces = piecesOf(level, range)
  const thresholds = thresholdsOf(pieces)
  const all = settled(named(pieces, thresholds), level)
  const barkCm = barkOf(pieces, all, hints)
  const { kept, left } = withinStem(underBark(all, barkCm), hints.radiusCm)
  const endCm = trace.depthsCm[trace.depthsCm.length - 1]
  const segments = kept.slice(0, mostSegments).map(({ fromCm, toCm, condition }) => ({
    fromCm: hundredth(fromCm),
    toCm: Math.min(hundredth(toCm), hundredthBelow(endCm)),
    condition,
  }))
  return {
    method: 'trace-1',
    barkCm: barkCm === null ? null : hundredth(barkCm),
    segments,
    levels: { ...thresholds, creepPerCm, segments: segments.map((segment) => levelWithin(level, segment)) },
    drawn,
    smoothed,
    notes: [
      sentences.relative,
      ...(segments.some(({ condition }) => condition === 'softened-brittle') ? [sentences.manner] : []),
      ...(barkCm === null ? [sentences.bark] : hints.barkHintCm === undefined ? [sentences.barkSeen] : []),
      ...(even.length > 1 ? [sentences.gap] : []),
      ...(kept.length > mostSegments ? [sentences.many] : []),
      ...(left ? [sentences.leftStem] : []),
    ],
    stoppedBy: 'end of trace',
  }
}

const hundredth = (cm: number) => Math.round(cm * 100) / 100
/** Nothing is claimed past the end, by however little. */
const hundredthBelow = (cm: number) => Math.floor(cm * 100 + 1e-6) / 100

/** An empty end that begins nearly a diameter in is the air behind the stem. */
function withinStem(segments: Named[], radiusCm: number | undefined): { kept: Named[]; left: boolean } {
  const last = segments.at(-1)
  const left = radiusCm !== undefined && last?.condition === 'void' && last.fromCm >= 1.8 * radiusCm
  return { kept: left ? segments.slice(0, -1) : segments, left }
}

/** Median of the bins that a segment reaches into. */
function levelWithin(stretches: Bins[], { fromCm, toCm }: WoodSegment): number {
  const values = stretches.flatMap((bins) =>
    [...bins.values].filter((_, i) => {
      const beginCm = bins.fromCm + i * bins.widthCm
      return beginCm < toCm && beginCm + bins.widthCm > fromCm
    }),
  )
  return median(values)
}

function smoothedCurve(stretches: Bins[]): TraceCurve {
  const depths = stretches.flatMap(({ fromCm, widthCm, values }) =>
    [...values.keys()].map((i) => fromCm + (i + 0.5) * widthCm),
  )
  const values = stretches.flatMap((bins) => [
    ...runningMean(runningMedian(bins.values, halfBins(bins, 0.25)), halfBins(bins, 0.1)),
  ])
  return thinned(Float64Array.from(depths), Float64Array.from(values))
}

function levelProposal(stretches: Bins[], drawn: TraceCurve, smoothed: TraceCurve): TraceProposal {
  const level = stretches[0]?.values[0] ?? 0
  return {
    method: 'trace-1',
    barkCm: null,
    segments: [],
    levels: {
      floor: level,
      sound: level,
      softenedBelow: level,
      voidBelow: level,
      creepPerCm: 0,
      segments: [],
    },
    drawn,
    smoothed,
    notes: [sentences.level],
    stoppedBy: 'end of trace',
  }
}
