import { type KeptEntry, waitsFor } from '@underbough/field'
import type { EntryKind } from '@underbough/model'
import { sayTime } from '../look/index.ts'

export const kindWords: Record<EntryKind, string> = {
  'urgent-note': 'Urgent note',
  closing: 'Closed visit',
  'found-tree': 'Tree found',
  'tree-change': 'Change to a tree',
  'visit-draft': 'Visit, not closed',
  reading: 'Reading',
  borders: 'Borders of a trace',
  failure: 'Failure',
  'tree-event': 'Event',
  'walk-over': 'Walk over a zone',
  'stop-added': 'Stop added',
  'stop-end': 'End of a stop',
  'day-order': 'Order of the day',
  'hand-over': 'Stops handed over',
  photo: 'Photo',
}

/** Where an entry can be looked at and mended; null where there is no such page. */
export function placeOf({ kind, treeId, subjectId }: KeptEntry): { to: string; words: string } | null {
  const tree = treeId ? `/trees/${treeId}` : null
  switch (kind) {
    case 'closing':
    case 'visit-draft':
    case 'urgent-note':
      return tree ? { to: `${tree}/visit`, words: 'Open the visit' } : null
    case 'reading':
      return tree ? { to: `${tree}/readings/new?reading=${subjectId}`, words: 'Open the reading' } : null
    case 'stop-added':
    case 'stop-end':
    case 'day-order':
    case 'hand-over':
      return { to: '/today', words: 'Open the day' }
    case 'found-tree':
      return null
    default:
      return tree ? { to: tree, words: 'Open the tree' } : null
  }
}

/** Why an entry is still here, in one sentence. */
export function whyHere(entry: KeptEntry, all: readonly KeptEntry[], now: number): string {
  if (entry.state === 'refused') return 'The office did not take it. It stays here until you mend it.'
  const before = waitsFor(entry, all)
  const first = before
    ? ` Goes after: ${before.label}${before.state === 'refused' ? ', which was refused' : ''}.`
    : ''
  if (entry.tries === 0 && entry.refusals.length === 0) return `Not sent yet.${first}`
  const again = entry.nextTryAt > now ? ` Next try at ${sayTime(entry.nextTryAt)}.` : ''
  const reason = entry.refusals.map(({ message }) => message).join(' ') || 'The office gave no answer to it.'
  return `${reason}${again}${first}`
}
