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
export { refusedAsCsv } from './refused.ts'
export type { FeatureReading, FeatureVerdict } from './shapes.ts'
export {
  type ColumnGuess,
  type Confidence,
  type Guess,
  type MappingSuggestion,
  type OrganisationDefaults,
  suggestMapping,
} from './suggest.ts'
export {
  type Column,
  readTable,
  reasonColumns,
  type Table,
  type TableOptions,
  type TableRow,
} from './table.ts'
export {
  type Progress,
  type RowVerdict,
  readTrees,
  readTreesInSteps,
  type TreeReading,
  type TreeReadingOptions,
} from './trees.ts'
export { treesToCsv, treesToGeoJson, type WrittenTree } from './write.ts'
export { readZones } from './zones.ts'
