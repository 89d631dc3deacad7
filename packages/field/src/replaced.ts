import type { KeptEntry } from './entry.ts'

/** What an entry says anew; an older entry with the same answer is not needed any more. Null where each entry stands for itself. */
function saysAnew({ kind, subjectId }: Pick<KeptEntry, 'kind' | 'subjectId'>): string | null {
  switch (kind) {
    case 'visit-draft':
    case 'closing':
      return `visit ${subjectId}`
    case 'reading':
      return `reading ${subjectId}`
    case 'borders':
      return `borders ${subjectId}`
    default:
      return null
  }
}

/**
 * Keys of the entries that `entry` makes needless: a later draft replaces an earlier one, a closing every draft, and what its person
 * mended replaces what was refused. What the office already has is left alone until the new entry is there too.
 */
export function replacedBy(entry: KeptEntry, all: readonly KeptEntry[]): string[] {
  const subject = saysAnew(entry)
  if (subject === null) return []
  return all
    .filter(
      (one) =>
        one.seq < entry.seq &&
        one.authorId === entry.authorId &&
        saysAnew(one) === subject &&
        // A refused closing stays, with its reasons, until the visit is closed again.
        !(one.kind === 'closing' && entry.kind === 'visit-draft') &&
        (entry.state === 'sent' || one.state !== 'sent'),
    )
    .map(({ key }) => key)
}
