import type { Refusal } from '@underbough/model'

/** One column of a file. `typeHint` is what the header cell itself says of the type (`C,20`), where it does. */
export interface Column {
  name: string
  typeHint: string | null
}

/** One row; `line` is the line of a CSV file (the header is line 1) or the number of a GeoJSON feature, from 1. */
export interface TableRow {
  line: number
  cells: string[]
  notes: Refusal[]
}

/** A file as a table of text. The geometry of a GeoJSON feature is one more column, as text. */
export interface Table {
  name: string
  format: 'csv' | 'geojson'
  encoding: string
  delimiter: string | null
  /** Reference system that the file itself states, as `WGS84` or `EPSG:` and a number. */
  crs: string | null
  columns: Column[]
  rows: TableRow[]
}

/** What a person may say about a file before it is read; whatever is left out is found from the file. */
export interface TableOptions {
  format?: 'csv' | 'geojson'
  encoding?: string
  delimiter?: string
  hasHeader?: boolean
  maxBytes?: number
  maxRows?: number
}
