/** Inside the stem: what readings into wood say, and what they leave open. */

// how old, and how far the borer came
export { type Age, type AgeInput, type AgePart, ageOf, defaultYearsToHeight } from './age/age.ts'
export { type RecentGrowth, recentGrowth } from './age/growth.ts'
export { type CountedTo, type InnerWidths, type MissingRings, missingRings } from './age/missing.ts'
export { type InnermostArc, type PithDistance, pithFromArc } from './age/pith.ts'
export { longestBorerCm, type Reach, type ReachInput, reachOf } from './age/reach.ts'
// published rules, side by side
export { type Slenderness, slendernessOf } from './form/slenderness.ts'
export { type Fork, forkOf } from './form/union.ts'
// a core broken piece by piece
export {
  type BreakManner,
  type BreakResult,
  type FractureInput,
  type FractureResult,
  fractureOf,
  type GreenWood,
} from './fracture/fracture.ts'
export { sectionModuli, sectionModulus } from './plane/modulus.ts'
export { type Moments, polygonMoments } from './plane/moments.ts'
export {
  type RootZone,
  type RootZoneId,
  type RootZoneInput,
  type RootZones,
  rootZones,
} from './roots/zones.ts'
export {
  type SectionAt,
  type SectionTree,
  sameHeightM,
  sectionFrom,
  sectionsOf,
} from './section/from-probes.ts'
export { bendingOnlyBelow, torsionOpenOverClosed, widestGapDeg } from './section/limits.ts'
export { sectionMethodVersion, sectionOf } from './section/section.ts'
export type * from './section/types.ts'
export { type HollowSection, offCentreCavity } from './shell/ring.ts'
export { shellRules } from './shell/rules.ts'
export type { ShellInput, ShellRule, ShellRuleId, ShellRules } from './shell/types.ts'
// species
export { type SpeciesName, speciesNames } from './species/catalogue.ts'
export type { DecayNote } from './species/decay.ts'
export type { WoodGroup } from './species/genera.ts'
export { resolveSpecies, type SpeciesMatch } from './species/resolve.ts'
export {
  type GreenWoodOf,
  greenDensityKgM3,
  greenWoodOf,
  strengthAtMoisture,
  type WoodCell,
} from './species/wood.ts'
// what a drill felt on its way
export type { TraceHints } from './trace/bark.ts'
export {
  type AcceptedBorders,
  acceptBorders,
  bordersOf,
  moveBorder,
  type TraceBorder,
  thinnestSegmentCm,
} from './trace/borders.ts'
export { proposeSegments, traceSilence } from './trace/propose.ts'
export { readTrace, traceLimits } from './trace/read.ts'
export { sniffTrace } from './trace/sniff.ts'
export { type SyntheticTrace, type SyntheticTraceInput, syntheticTrace } from './trace/synthetic.ts'
export type * from './trace/types.ts'
// weight
export { type EverydayComparison, everydayComparison } from './weight/comparison.ts'
export {
  foliageShares,
  KG_M3_PER_LB_FT3,
  KG_PER_LB,
  type PartInput,
  type PartWeight,
  type Spanned,
  weighPart,
} from './weight/part.ts'
export { type RiggingInput, type RiggingLoad, riggingCaution, riggingLoad } from './weight/rigging.ts'
// wind and lean
export type { SectionShare } from './wind/capacity.ts'
export { type AreaKind, type DragMark, type DragRecord, dragRecords, type LeafState } from './wind/drag.ts'
export { gustMethodVersion, gustRange } from './wind/gust.ts'
export { type WindLoad, type WindShape, windLoad } from './wind/load.ts'
export { type GustWind, type MeanWind, type Wind, windPressurePa } from './wind/pressure.ts'
export { returnFactor, type Terrain, type TerrainWind, terrains, terrainWind } from './wind/terrain.ts'
export type { GustInput, GustRange, InputLine, Known } from './wind/types.ts'
export type { GustEnd, GustEnds } from './wind/words.ts'
