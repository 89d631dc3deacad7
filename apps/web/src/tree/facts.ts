import {
  type AreaGeometry,
  combinedDiameterCm,
  type Finding,
  type LookingStep,
  type Position,
  planeAt,
  type Rating,
  type Tree,
  type Visit,
} from '@underbough/model'
import type { Footprint, LookedStep, PlanZone, RatedPath, RoseZone } from '@underbough/pictures'
import { eventNames } from '@underbough/rating'
import type { TreeExposureView, ZoneExposureView } from '../api/index.ts'

/** Degrees and minutes with the half of the world in a letter: `31° 40.200′ S`. Minutes to a thousandth, about 2 m. */
export function sayAngle(degrees: number, positive: string, negative: string): string {
  const thousandths = Math.round(Math.abs(degrees) * 60_000)
  const whole = Math.floor(thousandths / 60_000)
  const minutes = ((thousandths % 60_000) / 1000).toFixed(3)
  return `${whole}° ${minutes}′ ${degrees < 0 ? negative : positive}`
}
/** `31° 40.200′ S, 8° 14.900′ W`. */
export const sayPosition = ([lon, lat]: Position): string =>
  `${sayAngle(lat, 'N', 'S')}, ${sayAngle(lon, 'E', 'W')}`

/** Outer rings of a zone in metres east and north of a place. Planar; for zones within a tree's reach. */
export function ringsAbout(from: Position, geometry: AreaGeometry): [number, number][][] {
  const plane = planeAt(from[0], from[1])
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates
  return polygons.map((rings) => rings[0]!.map(([lon, lat]) => plane.toMetres(lon, lat)))
}

/** A zone's name short enough for a drawing: what stands before its first comma, numbered where two read alike. */
function shortNames() {
  const taken = new Map<string, number>()
  return (name: string) => {
    const short = name.split(',')[0]!
    const times = (taken.get(short) ?? 0) + 1
    taken.set(short, times)
    return times > 1 ? `${short} ${times}` : short
  }
}
/** How many zones a drawing can name before its words lie on one another. */
const MOST_DRAWN = 4

/** The zones that bear most as a plan draws them; a zone in parts becomes several. Metres east and north of the tree. */
export function planZones(from: Position, zones: readonly ZoneExposureView[]): PlanZone[] {
  const nameOf = shortNames()
  return zones
    .slice(0, MOST_DRAWN)
    .flatMap(({ name, kind, geometry }) =>
      geometry ? ringsAbout(from, geometry).map((ring) => ({ name: nameOf(name), kind, ring })) : [],
    )
}
export function roseZones(zones: readonly ZoneExposureView[]): RoseZone[] {
  const nameOf = shortNames()
  return zones.slice(0, MOST_DRAWN).map((zone) => ({
    name: nameOf(zone.name),
    kind: zone.kind,
    touchingBearings: zone.touching,
    touchShare: zone.pTouch.mean,
  }))
}

const apart = (a: number, b: number) => Math.abs(((a - b + 540) % 360) - 180)

/** Where the tree would lie on its likeliest bearing, and what makes that bearing likely. */
export function footprintOf(tree: Tree, exposure: TreeExposureView): Footprint {
  const plane = planeAt(tree.position[0], tree.position[1])
  const ring = exposure.outline.map(([lon, lat]) => plane.toMetres(lon, lat))
  const bearingDeg = exposure.outlineBearingDeg
  const near = (other: number | null | undefined) => other != null && apart(other, bearingDeg) <= 15
  const because = near(tree.lean?.angleDeg ? tree.lean.bearingDeg : null)
    ? 'on its lean'
    : near(tree.clearingBearingDeg)
      ? 'towards the clearing'
      : 'on its likeliest bearing'
  const reachM = Math.max(0, ...ring.map(([e, n]) => Math.hypot(e, n)))
  const scatter = tree.deadOrBrittle ? exposure.under?.whole.inputs.policy.scatter : undefined
  return {
    ring,
    bearingDeg,
    reachM,
    because,
    ...(scatter ? { thrown: thrownRing(reachM, scatter.beyond, bearingDeg, scatter.halfAngleDeg) } : {}),
  }
}

const ARC_STEPS = 16
/** The ground between the reach and so many times it, to so many degrees on either side of a bearing: a closed ring, metres. */
function thrownRing(reachM: number, beyond: number, bearingDeg: number, halfDeg: number): [number, number][] {
  const arc = (radius: number) =>
    Array.from({ length: ARC_STEPS + 1 }, (_, i): [number, number] => {
      const bearing = ((bearingDeg - halfDeg + (2 * halfDeg * i) / ARC_STEPS) * Math.PI) / 180
      return [radius * Math.sin(bearing), radius * Math.cos(bearing)]
    })
  return [...arc(reachM), ...arc(reachM * beyond).reverse(), arc(reachM)[0]!]
}

/** The words of a rating, for the path. */
export const pathOf = (rating: Rating): RatedPath => ({
  ...rating.worst,
  timeFrameYears: rating.timeFrameYears,
})

/** A visit as the strip of its seven steps draws it. */
export function lookedSteps(visit: Visit): LookedStep[] {
  return visit.steps.map((answer) => ({
    step: answer.step,
    result: answer.result,
    minutes: answer.seconds / 60,
    found:
      answer.result === 'not-seen'
        ? (answer.notSeenBecause ?? 'not seen')
        : foundAt(visit.findings, answer.step) || 'nothing found',
  }))
}
const foundAt = (findings: readonly Pick<Finding, 'step' | 'kind'>[], step: LookingStep) =>
  findings
    .filter((f) => f.step === step)
    .map((f) => f.kind.toLowerCase())
    .join('; ')

/** `2.1 m`; a dash where it was not measured. */
export const sayMetres = (metres: number | null) =>
  metres === null ? 'not measured' : `${Number(metres.toFixed(1))} m`
export const sayBearing = (degrees: number | null) =>
  degrees === null ? '' : `${String(Math.round(degrees) % 360).padStart(3, '0')}°`

/** `94 cm at 1.3 m`; several stems are named one by one and combined as √Σd². */
export function sayStems(tree: Pick<Tree, 'stems'>): string {
  const { stems } = tree
  if (stems.length === 0) return 'not measured'
  const at = [...new Set(stems.map((stem) => stem.measuredAtM))].map((m) => `${m} m`).join(' and ')
  const each = stems.map((stem) => String(stem.diameterCm)).join(', ')
  if (stems.length === 1) return `${each} cm at ${at}`
  return `${stems.length} stems: ${each} cm at ${at}; together as ${Math.round(combinedDiameterCm(stems.map((s) => s.diameterCm)))} cm`
}

export const protectionNames = {
  'preservation-order': 'preservation order',
  'conservation-area': 'conservation area',
  habitat: 'habitat',
} as const
export const statusNames = {
  standing: 'standing',
  pole: 'pole, kept for habitat',
  stump: 'stump',
  gone: 'gone',
} as const
export const eventName = (kind: string): string => (eventNames as Record<string, string>)[kind] ?? kind
export const workStateNames = {
  proposed: 'proposed',
  approved: 'accepted, to be done',
  done: 'done',
  refused: 'refused',
} as const
export const levelNames = { 1: 'limited', 2: 'basic', 3: 'advanced' } as const
