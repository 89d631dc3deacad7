import type { TreeField, TreeMapping } from '@underbough/model'

/** How far a guess may be trusted; nothing is applied before a person has seen it. */
export type Confidence = 'sure' | 'likely' | 'guess' | 'none'

export interface Guess {
  confidence: Confidence
  /** One sentence for a person. */
  because: string
}

export interface ColumnGuess extends Guess {
  column: string
  field: TreeField
  examples: string[]
}

/** A mapping to start from, with the reason for each part of it. */
export interface MappingSuggestion {
  mapping: TreeMapping
  columns: ColumnGuess[]
  settings: Record<Exclude<keyof TreeMapping, 'columns'>, Guess>
}

/** What the organisation is used to. */
export interface OrganisationDefaults {
  stemHeightM: number
  units: 'metric' | 'inch-pound'
}

/** A column with a sample of its filled cells. */
export interface Sampled {
  name: string
  words: string
  filled: string[]
  blanks: number
}

/** A value with the reason for it. */
export interface Guessed<T> extends Guess {
  value: T
}

/** A guess about a column, with a few of its cells to look at. */
export function guess(
  column: Sampled,
  field: TreeField,
  confidence: Confidence,
  because: string,
): ColumnGuess {
  const examples = [...new Set(column.filled.slice(0, 50))].slice(0, 3).map((cell) => cell.slice(0, 80))
  return { column: column.name, field, confidence, because, examples }
}
