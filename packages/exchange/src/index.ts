/** In and out: files of trees, zones and ground to records with one verdict a row, and back. Pure: bytes in, values out. */
export { type ExchangeCode, exchangeCodes } from './codes.ts'
export {
  type Comparison,
  compareWithStored,
  type Difference,
  IGNORED_MOVE_M,
  type TreeSummary,
} from './compare.ts'
export { type Crs, findCrs } from './crs.ts'
export { type GroundFeatureInput, type GroundMapping, readGround } from './ground.ts'
export type { ColumnGuess, Confidence, Guess, MappingSuggestion, OrganisationDefaults } from './guesses.ts'
export { refusedAsCsv } from './refused.ts'
export type { RowVerdict } from './row-verdict.ts'
export type { FeatureReading, FeatureVerdict } from './shapes.ts'
export { type ListFacts, spotsToCsv, spotsToGeoJson, type WrittenSpot } from './spots.ts'
export { suggestMapping } from './suggest.ts'
export { readTable, reasonColumns } from './table.ts'
export type { Column, Table, TableOptions, TableRow } from './table-types.ts'
export {
  type Progress,
  readTrees,
  readTreesInSteps,
  type TreeReading,
  type TreeReadingOptions,
} from './trees.ts'
export { treesToCsv, treesToGeoJson, type WrittenTree } from './write.ts'
export { readZones } from './zones.ts'
