import { batchLimits, type EntryKind } from '@underbough/model'
import type { KeptEntry } from './entry.ts'
import { longestWaitMs } from './verdicts.ts'

/** The order of sending: people first, then closed visits, then what other entries stand on. Within a rank, as they were made. */
const ranks: Readonly<Record<EntryKind, number>> = {
  'urgent-note': 0,
  closing: 1,
  'found-tree': 2,
  'tree-change': 3,
  'visit-draft': 4,
  reading: 5,
  borders: 6,
  failure: 7,
  'tree-event': 7,
  'walk-over': 7,
  // What was done with the stops of a day means something only in its own order.
  'stop-added': 8,
  'stop-end': 8,
  'day-order': 8,
  'hand-over': 8,
  photo: 9,
}

/** Largest message of several entries, characters of JSON; a longer entry travels alone. */
export const batchCharacters = 2_000_000

type Body = Record<string, unknown>
const bodyOf = (entry: KeptEntry) => (entry.body ?? {}) as Body
const idsOf = (list: unknown): unknown[] =>
  Array.isArray(list) ? list.map((one) => (one as { id?: unknown } | null)?.id) : []
const idOf = (part: unknown) => (part as { id?: unknown } | null | undefined)?.id
const words = (ids: unknown[]) => ids.filter((id): id is string => typeof id === 'string')

/** The records that come to be at the office with this entry. */
export function gives(entry: KeptEntry): string[] {
  const body = bodyOf(entry)
  switch (entry.kind) {
    case 'closing': {
      const visit = (body.visit ?? {}) as Body
      return words([visit.id, ...idsOf(visit.findings), idOf(body.urgentNote)])
    }
    case 'visit-draft':
      return words([body.id, ...idsOf(body.findings)])
    case 'found-tree':
      return words([
        body.id,
        idOf(body.stop),
        (body.fallen as { failureId?: unknown } | null | undefined)?.failureId,
      ])
    case 'stop-added':
      return words([body.stopId])
    case 'urgent-note':
    case 'reading':
    case 'failure':
    case 'photo':
      return words([body.id])
    default:
      return []
  }
}

/** The records this entry stands on, whoever made them. */
export function needs(entry: KeptEntry): string[] {
  const body = bodyOf(entry)
  const visit = (body.visit ?? {}) as Body
  const reading = (body.reading ?? {}) as Body
  const made = new Set(gives(entry))
  return words([
    body.treeId,
    visit.treeId,
    body.visitId,
    body.probeId,
    body.ownerId,
    reading.ofProbeId,
    ...(entry.kind === 'stop-added' ? [] : [body.stopId]),
    ...(Array.isArray(body.stopIds) ? body.stopIds : []),
    ...(entry.kind === 'walk-over' && Array.isArray(body.notes)
      ? body.notes.map((one) => (one as { treeId?: unknown }).treeId)
      : []),
  ]).filter((id) => !made.has(id))
}

/** The records an entry falls with when they are taken back: those it stands on, and the original that it is a copy of. */
export const fallsWith = (entry: KeptEntry): string[] => [...needs(entry), ...words([bodyOf(entry).copyOf])]

/** What an entry waits for on its own device: the entry of this list that must reach the office before it; null for none. */
export function waitsFor(entry: KeptEntry, all: readonly KeptEntry[]): KeptEntry | null {
  const { makers } = index(all)
  for (const id of needs(entry)) {
    const found = makers.get(id)
    if (found && !found.some(({ state }) => state === 'sent')) return found[0]!
  }
  return null
}

function index(all: readonly KeptEntry[]) {
  const makers = new Map<string, KeptEntry[]>()
  for (const entry of all) for (const id of gives(entry)) makers.set(id, [...(makers.get(id) ?? []), entry])
  return { makers }
}

const byRank = (a: KeptEntry, b: KeptEntry) =>
  ranks[a.kind] - ranks[b.kind] || isOriginal(a) - isOriginal(b) || a.seq - b.seq
/** What changes the stops of a day, or their order. */
const changesDay = (entry: KeptEntry) =>
  ranks[entry.kind] === ranks['day-order'] || (entry.kind === 'found-tree' && bodyOf(entry).stop != null)
/** Small copies of photos before originals: something to see arrives soon. */
const isOriginal = (entry: KeptEntry) =>
  entry.kind === 'photo' && bodyOf(entry).copyKind !== 'screen' ? 1 : 0

export interface Asked {
  /** Device clock, ms. */
  now: number
  /** Whose entries may go. */
  authorIds: readonly string[]
  /** A person asked, or the signal came back: entries that were put off go too. */
  eager?: boolean
}

/**
 * The entries that may go now, in the order in which they must. An entry comes after those it stands on; where one of them cannot go
 * (put off, refused, or another person's), it waits too. Nothing else waits for anything. Before a tree found on the way comes onto a
 * day, or a visit ends one of its stops, goes what was done with the day until then, where it may: the office comes to the same day.
 * Only for an urgent note nothing is taken along that it does not stand on.
 */
export function sendable(all: readonly KeptEntry[], { now, authorIds, eager }: Asked): KeptEntry[] {
  const { makers } = index(all)
  const standing = new Map<string, boolean>()
  const out: KeptEntry[] = []
  const dayChanges = all.filter(changesDay).sort((a, b) => a.seq - b.seq)
  const place = (entry: KeptEntry, forNote: boolean): boolean => {
    const known = standing.get(entry.key)
    if (known !== undefined) return known
    // Entries that stand on each other in a ring would wait for ever: the office judges them.
    standing.set(entry.key, true)
    const may =
      entry.state === 'waiting' &&
      authorIds.includes(entry.authorId) &&
      (eager === true || isDue(entry.nextTryAt, now)) &&
      needs(entry).every((id) => {
        const found = makers.get(id)
        return (
          !found ||
          found.some(({ state }) => state === 'sent') ||
          found.some((maker) => place(maker, forNote))
        )
      })
    standing.set(entry.key, may)
    if (may && !forNote && (entry.kind === 'closing' || (entry.kind === 'found-tree' && changesDay(entry))))
      for (const change of dayChanges) if (change.seq < entry.seq) place(change, false)
    if (may) out.push(entry)
    return may
  }
  for (const entry of [...all].sort(byRank))
    if (entry.state === 'waiting') place(entry, entry.kind === 'urgent-note')
  return out
}

/** A time further off than any wait was set before the device's clock was put back. */
const isDue = (at: number, now: number) => at <= now || at > now + 2 * longestWaitMs

/** As many of `entries`, from the first on, as one message takes. */
export function batchOf(entries: readonly KeptEntry[], most: number = batchLimits.entries): KeptEntry[] {
  const out: KeptEntry[] = []
  let characters = 0
  for (const entry of entries) {
    characters += JSON.stringify(entry.body ?? null).length + 300
    if (out.length >= most || (out.length > 0 && characters > batchCharacters)) break
    out.push(entry)
  }
  return out
}
