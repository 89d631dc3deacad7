/** In and out: files of trees, zones and ground to records with one verdict a row, and back. Pure: bytes in, values out. */
export { type ExchangeCode, exchangeCodes } from './codes.ts'
export { type Crs, findCrs } from './crs.ts'
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
