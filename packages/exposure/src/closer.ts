import { exposureOverPlaces } from './accuracy.ts'
import { distanceToZoneM, fallingTreeOn, hoursOfZones, type ZoneOnGround, zonesAround } from './around.ts'
import { circleOfM } from './circle.ts'
import { type Contribution, contributionsOf } from './contributions.ts'
import type { Ringed } from './exposure.ts'
import { HOURS_PER_WEEK, type HourClass, meanPeople } from './occupancy.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { searchUnderM, type TreeOnGround } from './under.ts'
import type { ZoneAround } from './zone.ts'

/** Chance of touching if the tree stands anywhere within so many metres of its place (see `exposureOverPlaces`). */
export interface OverCircle {
  radiusM: number
  joint: Ringed
  zones: ({ id: string } & Ringed)[]
}

/** What many trials of one tree say of its figures. Everything is given that it fails. */
export interface Closer {
  /** Null where the place has no circle (see `circleOfM`). */
  overCircle: OverCircle | null
  /** What moves the mean number of people most, the strongest first. */
  contributions: Contribution[]
}

/**
 * What moves the figures of one tree, from the records alone; `zones` of any number, near and far. Some eighty times the work of
 * the figures themselves. Null where nothing stands that could fall.
 */
export function closerOf(
  tree: TreeOnGround,
  windRose: readonly number[] | null,
  zones: readonly ZoneOnGround[],
  policy: ExposurePolicy = defaultExposurePolicy,
): Closer | null {
  const falling = fallingTreeOn(tree, windRose)
  if (!falling) return null
  const within = searchUnderM(tree, falling, policy)
  const near = zones.filter((zone) => distanceToZoneM(tree.position, zone.geometry) <= within)
  const around = zonesAround(tree.position, near, hoursOfZones(near))
  const radiusM = circleOfM(tree)
  const nobody = withPeople(around, () => 0)
  return {
    overCircle: radiusM > 0 ? touching(radiusM, exposureOverPlaces(falling, nobody, radiusM, policy)) : null,
    contributions: contributionsOf(falling, withPeople(around, meanPeople), {
      policy,
      accuracyM: radiusM || null,
      by: 'people',
    }),
  }
}

const allHours = Array.from({ length: HOURS_PER_WEEK }, (_, hour) => hour)
/**
 * The zones with as many people at every hour. Touching does not ask for people, and their mean number not for the hours they come at
 * (but where a part holds more than its zone), so that figures of many trials need not tell hours apart.
 */
const withPeople = (zones: readonly ZoneAround[], people: (hours: readonly HourClass[]) => number) =>
  zones.map(
    (zone): ZoneAround => ({ ...zone, hours: [{ people: people(zone.hours), weight: 1, hours: allHours }] }),
  )

const touching = (radiusM: number, { joint, zones }: ReturnType<typeof exposureOverPlaces>): OverCircle => {
  const ringed = ({ mean, least, most }: Ringed): Ringed => ({ mean, least, most })
  return {
    radiusM,
    joint: ringed(joint.pTouch),
    zones: zones.map(({ id, pTouch }) => ({ id, ...ringed(pTouch) })),
  }
}
