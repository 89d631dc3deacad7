import type { Refusal, TreeInput, Verdict } from '@underbough/model'

/** What became of one row. `line` is as a person counts in the file; `raw` is every cell by its column. */
export interface RowVerdict {
  line: number
  verdict: Verdict
  notes: Refusal[]
  raw: Record<string, string>
  /** `null` exactly when the row is refused. */
  tree: TreeInput | null
  sourceKey: string | null
}
