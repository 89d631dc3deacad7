import { densityAt, type Lobe } from './density.ts'
import { type ExposureFlag, flag } from './flags.ts'
import type { ZoneRings } from './kernel/rings.ts'
import { gaussRule } from './kernel/rules.ts'
import type { HourClass, OccupancyProfile } from './occupancy.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { type Silhouette, silhouetteRing } from './silhouette.ts'
import { contains, zoneRings } from './zone.ts'

export type VehicleProfile = Extract<OccupancyProfile, { kind: 'vehicles' }>

/** What may happen on a road that a tree falls across, given that it does; two outcomes, never added to one. */
export interface RoadOutcomes {
  /** Mean length of road that lies blocked, metres along it. */
  blockedM: number
  /** How far a driver gets from seeing the tree to standing, metres. */
  stoppingM: number
  /** Vehicles within the blocked length when it falls: mean number, and chance of at least one. */
  under: { mean: number; atLeastOne: number }
  /**
   * Vehicles within the stopping distance, which cannot stop: mean number, at most one first vehicle a lane, and chance of at
   * least one. Those behind the first meet a vehicle and not the tree.
   */
  runsInto: { mean: number; firstMean: number; atLeastOne: number }
  /** Chance of at least one vehicle in either. */
  either: number
  /** `later-arrivals-unbounded`: drivers see less far than they need. `queue-density`: at some hours the road is full. */
  flags: ExposureFlag[]
}

/**
 * Stopping distance in metres from a speed in km/h: reaction time × speed + speed² / (2 × deceleration), the formula of the
 * AASHTO "Green Book" (there with 2.5 s and 3.4 m/s²) on a level road. RangeError unless all are above zero.
 */
export function stoppingDistanceM(speedKmh: number, reactionS: number, decelerationMps2: number): number {
  if (!(speedKmh > 0 && reactionS > 0 && decelerationMps2 > 0))
    throw new RangeError('speed, reaction time and deceleration are above zero')
  const speedMps = speedKmh / 3.6
  return speedMps * reactionS + (speedMps * speedMps) / (2 * decelerationMps2)
}

/** What a road's outcomes are worked out from. */
export interface RoadTraffic {
  /** Vehicles an hour, all lanes together, by class of hours with their weights. */
  hours: readonly { weight: number; vehiclesPerHour: number }[]
  speedKmh: number
  lanes: number
  sightDistanceM: number | null
}

/** Both outcomes over lengths of blocked road, each with its chance; the chances sum to 1. */
export function roadOutcomes(
  traffic: RoadTraffic,
  blocked: readonly { chance: number; blockedM: number }[],
  assumed: ExposurePolicy['road'] = defaultExposurePolicy.road,
): RoadOutcomes {
  const { speedKmh, lanes, sightDistanceM } = traffic
  const stoppingM = stoppingDistanceM(speedKmh, assumed.reactionS, assumed.decelerationMps2)
  const got: RoadOutcomes = {
    blockedM: blocked.reduce((sum, b) => sum + b.chance * b.blockedM, 0),
    stoppingM,
    under: { mean: 0, atLeastOne: 0 },
    runsInto: { mean: 0, firstMean: 0, atLeastOne: 0 },
    either: 0,
    flags: [],
  }
  let full = false
  for (const { weight, vehiclesPerHour } of traffic.hours) {
    // Vehicles a metre of one lane; no more than stand in a queue.
    const moving = vehiclesPerHour / lanes / (speedKmh * 1000)
    const queue = assumed.queuePerKm / 1000
    if (moving > queue) full = true
    const perM = Math.min(moving, queue)
    const within = perM * lanes * stoppingM
    got.runsInto.mean += weight * within
    got.runsInto.firstMean += weight * lanes * -Math.expm1(-perM * stoppingM)
    got.runsInto.atLeastOne += weight * -Math.expm1(-within)
    for (const { chance, blockedM } of blocked) {
      const under = perM * lanes * (blockedM + assumed.vehicleLengthM)
      got.under.mean += weight * chance * under
      got.under.atLeastOne += weight * chance * -Math.expm1(-under)
      got.either += weight * chance * -Math.expm1(-(under + within))
    }
  }
  if (sightDistanceM !== null && sightDistanceM < stoppingM) got.flags.push(flag('later-arrivals-unbounded'))
  if (full) got.flags.push(flag('queue-density'))
  return got
}

const RULE = gaussRule(3)
const WIDEST_DEG = 3

/**
 * The outcomes for a road zone and what falls on it. `touchingBearings` as the kernel found them: the length blocked is that
 * of outline and road shared, along the road's longest edge, at bearings in between. Null where the road is not met.
 */
export function roadOutcomesOf(
  silhouette: Silhouette,
  lobes: readonly Lobe[],
  road: { polygons: Parameters<typeof zoneRings>[0]; hours: readonly HourClass[]; profile: VehicleProfile },
  touchingBearings: readonly { fromDeg: number; toDeg: number }[],
  policy: ExposurePolicy = defaultExposurePolicy,
): RoadOutcomes | null {
  const rings = zoneRings(road.polygons)
  const along = longestEdge(rings)
  const blocked: { chance: number; blockedM: number }[] = []
  for (const { fromDeg, toDeg } of touchingBearings) {
    const pieces = Math.ceil((toDeg - fromDeg) / WIDEST_DEG)
    const width = (toDeg - fromDeg) / pieces
    for (let piece = 0; piece < pieces; piece++)
      for (let k = 0; k < RULE.size; k++) {
        const angle = ((90 - fromDeg - width * (piece + RULE.at[k]!)) * Math.PI) / 180
        const chance = (densityAt(lobes, angle) * RULE.weight[k]! * width * Math.PI) / 180
        blocked.push({ chance, blockedM: sharedLengthM(silhouetteRing(silhouette, angle), rings, along) })
      }
  }
  const all = blocked.reduce((sum, b) => sum + b.chance, 0)
  if (!(all > 0)) return null
  const { profile, hours } = road
  // People in the zone were vehicles × people each × length over speed.
  const perVehicle = (profile.peoplePerVehicle * profile.lengthM) / (profile.speedKmh * 1000)
  return roadOutcomes(
    {
      hours: hours.map(({ weight, people }) => ({ weight, vehiclesPerHour: people / perVehicle })),
      speedKmh: profile.speedKmh,
      lanes: profile.lanes ?? 2,
      sightDistanceM: profile.sightDistanceM ?? null,
    },
    blocked.map((b) => ({ ...b, chance: b.chance / all })),
    policy.road,
  )
}

/** Direction of the longest edge, which is taken for the road's. */
function longestEdge({ x, y, starts }: ZoneRings): [number, number] {
  let longest: [number, number] = [1, 0]
  let most = 0
  for (let ring = 0; ring + 1 < starts.length; ring++)
    for (let i = starts[ring]!; i + 1 < starts[ring + 1]!; i++) {
      const [dx, dy] = [x[i + 1]! - x[i]!, y[i + 1]! - y[i]!]
      const length = Math.hypot(dx, dy)
      if (length > most) {
        most = length
        longest = [dx / length, dy / length]
      }
    }
  return longest
}

/** How far what outline and zone share reaches along a direction: between its outermost corners and crossings. */
function sharedLengthM(outline: [number, number][], zone: ZoneRings, [ex, ey]: [number, number]): number {
  let least = Infinity
  let most = -Infinity
  const take = (x: number, y: number) => {
    const at = x * ex + y * ey
    if (at < least) least = at
    if (at > most) most = at
  }
  const ox = Float64Array.from(outline, (p) => p[0])
  const oy = Float64Array.from(outline, (p) => p[1])
  const ends = [0, outline.length]
  for (const [x, y] of outline) if (contains(zone.x, zone.y, zone.starts, x, y)) take(x, y)
  for (let ring = 0; ring + 1 < zone.starts.length; ring++)
    for (let i = zone.starts[ring]!; i + 1 < zone.starts[ring + 1]!; i++) {
      const [px, py] = [zone.x[i]!, zone.y[i]!]
      const [dx, dy] = [zone.x[i + 1]! - px, zone.y[i + 1]! - py]
      if (contains(ox, oy, ends, px, py)) take(px, py)
      for (let k = 0; k + 1 < outline.length; k++) {
        const [fx, fy] = [ox[k + 1]! - ox[k]!, oy[k + 1]! - oy[k]!]
        const cross = dx * fy - dy * fx
        if (cross === 0) continue
        const [gx, gy] = [ox[k]! - px, oy[k]! - py]
        const s = (gx * fy - gy * fx) / cross
        const t = (gx * dy - gy * dx) / cross
        if (s >= 0 && s <= 1 && t >= 0 && t <= 1) take(px + s * dx, py + s * dy)
      }
    }
  return most > least ? most - least : 0
}
