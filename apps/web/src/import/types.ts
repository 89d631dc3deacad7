import type {
  Change,
  GroundFeatureKind,
  Refusal,
  TreeField,
  TreeMapping,
  Verdict,
  ZoneMapping,
} from '@underbough/model'

export type ImportKind = 'trees' | 'zones' | 'ground'
export type ImportState = 'mapping' | 'reading' | 'ready' | 'writing' | 'done' | 'cancelled' | 'failed'
/** How a file of the ground's own features is read. */
export type GroundMapping = Omit<ZoneMapping, 'kind' | 'lineWidthM'> & { kind: GroundFeatureKind }
export type Mapping = TreeMapping | ZoneMapping | GroundMapping

export interface Guess {
  confidence: 'sure' | 'likely' | 'guess' | 'none'
  because: string
}
/** A file as it came, with a mapping to start from. */
export interface Begun {
  importId: string
  table: {
    columns: { name: string; samples: string[] }[]
    rows: number
    format: 'csv' | 'geojson'
    encoding: string
    delimiter: string | null
    crs: string | null
    notes: Refusal[]
  }
  suggested: Mapping
  explanations: {
    columns: (Guess & { column: string; field: TreeField; examples: string[] })[]
    settings: Partial<Record<string, Guess>>
  } | null
}

export interface ImportCounts {
  rows: number
  taken: number
  noted: number
  refused: number
  new: number
  changed: number
  same: number
  gone: number
}
export interface ImportStatus {
  importId: string
  kind: ImportKind
  fileName: string
  state: ImportState
  mapping: Mapping | null
  jobId: string | null
  progress: { done: number; total: number }
  counts: ImportCounts
  byCode: { code: string; count: number }[]
  notes: Refusal[]
  refusal: Refusal | null
  madeAt: string
}
/** One line of the list of earlier imports. */
export type ImportHead = Pick<ImportStatus, 'importId' | 'kind' | 'fileName' | 'state' | 'counts' | 'madeAt'>

export interface ImportRow {
  /** Line or number in the file; null for a record that is gone from it. */
  line: number | null
  verdict: Verdict
  change: Change | null
  notes: Refusal[]
  raw: Record<string, string>
  sourceKey: string | null
  record: unknown
  differences: { field: string; from: unknown; to: unknown }[]
}
export interface ImportRows {
  rows: ImportRow[]
  total: number
  page: number
  pageRows: number
}
export interface RowQuestion {
  verdict?: Verdict
  change?: Change
  code?: string
}
