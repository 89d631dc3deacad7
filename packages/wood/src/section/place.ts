import { done, type Outcome, refusal, refused, type WoodCondition } from '@underbough/model'
import { at, bearingOf, distance, radians, wrap } from './around.ts'
import type { Outline } from './outline.ts'
import type { CutWall, PlacedReading, PlacedSegment, PlanePoint, SectionReading } from './types.ts'

/** Wood that still bears load. Stained wood is firm: it is counted, and said to be. */
const isFirm = (condition: WoodCondition) => condition === 'sound' || condition === 'stained'
/** Segments closer than this are taken as touching, cm. */
const TOUCH_CM = 0.3
/** A reading may be this much longer than the stem is thick on its way: depths and outlines are measured with errors. */
const SLACK = { cm: 2, share: 0.03 }
/** Longest reading that errors of measuring let stand for a true length, cm. */
export const mostRead = (trueCm: number) => trueCm * (1 + SLACK.share) + SLACK.cm

/** A second wall met on the far side of a hollow: the bearing and the wall there. */
export interface FarWall {
  bearingDeg: number
  wallCm: number
}
export interface Placed {
  reading: PlacedReading
  far: FarWall | null
  /** Nothing between the bark and the first segment was read, so no wall can be told. */
  begunLate: boolean
}

/**
 * Places a core or a trace in the plane of the section: depth runs along the instrument from its entry point, so a drill aimed past the
 * middle reads long. Codes: `reading-past-stem`, `reading-misses-stem`.
 */
export function placeReading(input: SectionReading, outline: Outline): Outcome<Placed> {
  const path = `readings.${input.label || input.probeId}`
  const entry = at(input.entryBearingDeg, outline.outer(input.entryBearingDeg))
  const direction = at(input.directionDeg, 1)
  const level = Math.cos(radians(input.tiltDeg))
  const inwards = -(entry[0] * direction[0] + entry[1] * direction[1])
  if (inwards <= 0)
    return refused(
      refusal('reading-misses-stem', `${path}.directionDeg`, {
        value: input.directionDeg,
        message: `${input.label} points to ${input.directionDeg}°, away from the stem. Straight in from ${input.entryBearingDeg}° is ${wrap(input.entryBearingDeg + 180)}°.`,
      }),
    )
  const thick = chord(entry, direction, outline)
  const deepest = Math.max(input.reachedCm, ...input.segments.map((one) => one.toCm)) * level
  if (deepest > mostRead(thick))
    return refused(
      refusal('reading-past-stem', `${path}.reachedCm`, {
        value: input.reachedCm,
        limit: `at most ${thick.toFixed(1)} cm`,
        message: `${input.label} is ${deepest.toFixed(1)} cm long; the stem is ${thick.toFixed(1)} cm thick on its way. Look at its depth, its direction and the outline.`,
      }),
    )
  const along = (cm: number): PlanePoint => [
    entry[0] + direction[0] * cm * level,
    entry[1] + direction[1] * cm * level,
  ]
  const firm = firmRun(input)
  // Beyond the point nearest to the middle the wall of this side cannot be told from the far one.
  const nearest = inwards / level
  const stopsInFirm = firm.openEnded || firm.toCm > nearest
  const inner = along(Math.min(firm.toCm, nearest))
  const start = along(firm.fromCm)
  const bearingDeg = distance(inner) > 0.5 ? bearingOf(inner) : input.entryBearingDeg
  const radiusCm = outline.wood(bearingDeg)
  const outerLossCm = Math.max(0, distance(along(input.barkCm)) - distance(start))
  const wallCm = Math.min(radiusCm, Math.max(0, radiusCm - distance(inner) - outerLossCm))
  const end = along(input.reachedCm)
  const readTo = input.reachedCm >= nearest ? 0 : Math.min(distance(end), radiusCm)
  return done({
    reading: {
      probeId: input.probeId,
      label: input.label,
      kind: 'instrument',
      entry,
      end,
      segments: strip(input, nearest, along),
      bearingDeg,
      wallCm,
      radiusCm,
      tOverR: wallCm / radiusCm,
      censored: stopsInFirm,
      outerLossCm,
      readCm: Math.max(0, radiusCm - readTo),
      unreadCm: readTo,
    },
    far: farWall(input, nearest, along, outline, firm.toCm),
    begunLate: firm.begunLate,
  })
}

/** A wall seen at a cut. Code: `reading-past-radius`. */
export function placeCut(input: CutWall, outline: Outline): Outcome<PlacedReading> {
  const radiusCm = outline.wood(input.bearingDeg)
  if (input.wallCm > mostRead(radiusCm))
    return refused(
      refusal('reading-past-radius', `readings.${input.label || input.probeId}.wallCm`, {
        value: input.wallCm,
        limit: `at most ${radiusCm.toFixed(1)} cm`,
        message: `The wall of ${input.wallCm} cm at ${input.bearingDeg}° is thicker than the radius there, ${radiusCm.toFixed(1)} cm. Look at the wall and at the outline.`,
      }),
    )
  const wallCm = Math.min(input.wallCm, radiusCm)
  const entry = at(input.bearingDeg, outline.outer(input.bearingDeg))
  const wood = at(input.bearingDeg, radiusCm)
  const inner = at(input.bearingDeg, radiusCm - wallCm)
  const bark = outline.bark(input.bearingDeg)
  return done({
    probeId: input.probeId,
    label: input.label,
    kind: 'cut',
    entry,
    end: inner,
    segments: [
      ...(bark > 0 ? [{ condition: 'bark' as const, from: entry, to: wood, lengthCm: bark }] : []),
      { condition: 'sound' as const, from: wood, to: inner, lengthCm: wallCm },
    ],
    bearingDeg: input.bearingDeg,
    wallCm,
    radiusCm,
    tOverR: wallCm / radiusCm,
    censored: false,
    outerLossCm: 0,
    readCm: wallCm,
    unreadCm: radiusCm - wallCm,
  })
}

/** Firm wood from the bark inwards: where it begins and ends, and whether it ended only because nothing more was read. */
function firmRun(input: SectionReading): {
  fromCm: number
  toCm: number
  openEnded: boolean
  begunLate: boolean
} {
  const { segments, barkCm } = input
  const first = segments[0]
  if (!first) return { fromCm: barkCm, toCm: barkCm, openEnded: true, begunLate: false }
  const begunLate = first.fromCm > barkCm + TOUCH_CM
  let i = 0
  let fromCm = barkCm
  while (i < segments.length && !isFirm(segments[i]!.condition)) fromCm = segments[i++]!.toCm
  // No firm wood at all: a wall of nothing, found as such.
  if (i === segments.length) return { fromCm: barkCm, toCm: barkCm, openEnded: false, begunLate }
  let toCm = segments[i]!.toCm
  for (i++; i < segments.length; i++) {
    const segment = segments[i]!
    if (segment.fromCm > toCm + TOUCH_CM) return { fromCm, toCm, openEnded: true, begunLate }
    if (!isFirm(segment.condition)) return { fromCm, toCm: segment.fromCm, openEnded: false, begunLate }
    toCm = segment.toCm
  }
  return { fromCm, toCm, openEnded: true, begunLate }
}

/** Firm wood met again behind softened wood or a void, beyond the middle. */
function farWall(
  input: SectionReading,
  nearestCm: number,
  along: (cm: number) => PlanePoint,
  outline: Outline,
  firstEndsCm: number,
): FarWall | null {
  const again = input.segments.find(
    (one, i) =>
      isFirm(one.condition) &&
      one.fromCm > Math.max(nearestCm, firstEndsCm) &&
      i > 0 &&
      !isFirm(input.segments[i - 1]!.condition) &&
      one.fromCm - input.segments[i - 1]!.toCm <= TOUCH_CM,
  )
  if (!again) return null
  const point = along(again.fromCm)
  const bearingDeg = bearingOf(point)
  return { bearingDeg, wallCm: Math.max(0, outline.wood(bearingDeg) - distance(point)) }
}

/** Everything the instrument passed, and what it left unread up to the point nearest to the middle. */
function strip(input: SectionReading, nearestCm: number, along: (cm: number) => PlanePoint): PlacedSegment[] {
  const out: PlacedSegment[] = []
  const add = (condition: PlacedSegment['condition'], fromCm: number, toCm: number) => {
    if (toCm - fromCm > 1e-6)
      out.push({ condition, from: along(fromCm), to: along(toCm), lengthCm: toCm - fromCm })
  }
  add('bark', 0, input.barkCm)
  let reached = input.barkCm
  for (const segment of input.segments) {
    add('unread', reached, segment.fromCm)
    add(segment.condition, Math.max(reached, segment.fromCm), segment.toCm)
    reached = Math.max(reached, segment.toCm)
  }
  add('unread', reached, nearestCm)
  return out
}

/** Length of the straight way through the stem, cm. */
function chord(entry: PlanePoint, direction: PlanePoint, outline: Outline): number {
  const outside = (cm: number) => {
    const point: PlanePoint = [entry[0] + direction[0] * cm, entry[1] + direction[1] * cm]
    return distance(point) > outline.outer(bearingOf(point))
  }
  const step = Math.max(0.25, distance(entry) / 100)
  let near = step
  const most = 4 * distance(entry) + 600
  while (near < most && !outside(near)) near += step
  let far = near
  near -= step
  for (let i = 0; i < 30; i++) {
    const middle = (near + far) / 2
    if (outside(middle)) far = middle
    else near = middle
  }
  return far
}
