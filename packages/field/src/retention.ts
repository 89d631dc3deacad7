import type { KeptEntry } from './entry.ts'

const hourMs = 3_600_000
/**
 * How long a device keeps what the office has. An office that lost its newest days and was set back to a copy gets them again from the
 * phones; copies are made daily and a loss is noticed within the week (common practice, no source).
 */
export const keptAfterSendingMs = 7 * 24 * hourMs
/** With little room left it is kept for a day at least: last night's copy is the likeliest one to be set back to. */
export const keptWhenShortMs = 24 * hourMs

export interface FileHead {
  sha256: string
  /** Device clock, ms. */
  keptAt: number
}

/**
 * What may be cleared from a device: entries that were sent long enough ago, and files that no entry here needs. Call it only just after
 * the office was asked for all that was sent: what it has lost meanwhile is waiting again by then.
 */
export function toClear(
  entries: readonly KeptEntry[],
  files: readonly FileHead[],
  { now, isShort }: { now: number; isShort: boolean },
): { keys: string[]; files: string[] } {
  const over = (since: number | null, ms: number) => since !== null && now - since > ms
  const cleared = entries.filter(
    ({ state, sentAt }) => state === 'sent' && over(sentAt, isShort ? keptWhenShortMs : keptAfterSendingMs),
  )
  const keys = new Set(cleared.map(({ key }) => key))
  const needed = new Set(
    entries.flatMap((entry) => (keys.has(entry.key) ? [] : [(entry.body as { sha256?: string })?.sha256])),
  )
  return {
    keys: [...keys],
    files: files
      // A file is stored before its entry: a young one without an entry is on its way to one.
      .filter(({ sha256, keptAt }) => !needed.has(sha256) && over(keptAt, keptWhenShortMs))
      .map(({ sha256 }) => sha256),
  }
}

/** Below this much room a device warns: 200 MB, or a tenth of what the browser gives, whichever is more. */
export const shortOfRoom = (usageBytes: number, quotaBytes: number): boolean =>
  quotaBytes - usageBytes < Math.max(200_000_000, quotaBytes / 10)
