/** Who is there, and who of them is under a tree if it fails. Everything is conditional on failure. */

// how sure
export { exposureOverPlaces, type OverPlaces, type PlaceExposure } from './accuracy.ts'
// from records
export {
  distanceToZoneM,
  exposureAround,
  fallingTreeOn,
  hoursOfZones,
  likeliestOutline,
  SEARCH_BEYOND_M,
  searchM,
  type ZoneOnGround,
  zonesAround,
} from './around.ts'
// many trees at once
export {
  type BatchTree,
  buffersOf,
  type ExposureTable,
  exposureOfMany,
  type FigureColumns,
  flagCodes,
  flagsOfBits,
} from './batch.ts'
// which way
export { angleFromBearing, bearingFromAngle } from './bearing.ts'
// what moves the figures
export { circleOfM } from './circle.ts'
export { type Closer, closerOf, type OverCircle } from './closer.ts'
export { type Contribution, type ContributionInput, contributionsOf, plausible } from './contributions.ts'
export { densityAt, densityPerDegOf, type Lobe, type LobeKind, lobesOf } from './density.ts'
export { meanPeopleIfEven, meanPeopleIfEvenOfMany } from './even.ts'
export {
  type Exposure,
  exposureMethodVersion,
  exposureOf,
  exposureOfScenario,
  exposureOfSilhouette,
  type Ringed,
  type TreeExposure,
  type ZoneExposure,
} from './exposure.ts'
// who is under it
export type { FallConditions } from './fall.ts'
export { type ExposureFlag, type ExposureFlagCode, exposureFlagSentences } from './flags.ts'
export { type Arrest, arrestOf } from './kernel/shelter.ts'
export {
  exposurePolicyLimits,
  exposurePolicySchema,
  type LimitsOf,
  readExposurePolicy,
} from './limits.ts'
// who is there
export {
  chancePresent,
  classHours,
  equalHourWeights,
  HOURS_PER_WEEK,
  type HourClass,
  hourClasses,
  hourClassesOf,
  hourClassesOfYear,
  meanPeople,
  type OccupancyProfile,
  peopleByHour,
  type Season,
} from './occupancy.ts'
export { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
// roads
export {
  type RoadOutcomes,
  type RoadTraffic,
  roadOutcomes,
  roadOutcomesOf,
  stoppingDistanceM,
  type VehicleProfile,
} from './roads.ts'
export { type FailingPart, type FallingPart, fallingPartOf } from './scenario.ts'
// all that a page says of one tree
export type { ShelterFacts } from './shelter-facts.ts'
export {
  outlineAt,
  reachOf,
  type Silhouette,
  silhouetteAreaM2,
  silhouetteOf,
  silhouetteReachM,
  silhouetteRing,
} from './silhouette.ts'
export { planShare, type Slope, slidesOn } from './slope.ts'
export { type ZoneTable, zoneTable } from './table.ts'
// what falls
export { type CrownRadii, type FallingTree, fallingTreeOf, heightFromStemM } from './tree.ts'
export {
  type PartUnder,
  type RoadUnder,
  type ScenarioOnRecord,
  searchUnderM,
  type TreeOnGround,
  type Under,
  underOf,
  type ZoneFacts,
} from './under.ts'
export type { ZoneAround } from './zone.ts'
