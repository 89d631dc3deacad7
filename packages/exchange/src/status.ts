import type { TreeStatus } from '@underbough/model'
import { isBlank } from './cells.ts'
import { say } from './codes.ts'
import { plainWords } from './header-words.ts'
import type { Read } from './measures.ts'

const words: [TreeStatus, RegExp][] = [
  ['stump', /\b(stump|stubben|stumpf|souche|tocon|stronk|stobbe)\b/],
  ['pole', /\b(pole|monolith|habitat stem|torso|hochstubben|chandelle)\b/],
  [
    'gone',
    /\b(gone|felled|removed|cut down|gefallt|entfernt|abattu|supprime|talado|eliminado|gekapt|geveld|verwijderd)\b/,
  ],
  [
    'standing',
    /\b(standing|alive|living|live|present|existing|in place|good|fair|poor|dead|bestand|vorhanden|lebend|vivant|en place|vivo|existente|levend|aanwezig)\b/,
  ],
]

/** What stands there, from a word in English, German, French, Spanish or Dutch. */
export function readStatus(cell: string, column: string): Read<TreeStatus> {
  if (isBlank(cell)) return { value: null, notes: [] }
  const found = words.find(([, pattern]) => pattern.test(plainWords(cell)))
  if (found) return { value: found[0], notes: [] }
  return {
    value: null,
    notes: [
      say(
        'unknown',
        column,
        `“${cell.slice(0, 40)}” is no status known here; the tree is taken as standing.`,
        {
          value: cell.slice(0, 200),
        },
      ),
    ],
  }
}
