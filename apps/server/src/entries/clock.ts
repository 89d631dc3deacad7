import { addDays, daysBetween, type EntryKind, today } from '@underbough/model'

/** A clock this near to the office's is left alone: the difference is the way of the message, not the clock. */
export const nearEnoughMs = 120_000

/** What a device's times are put right by: the whole offset, or nothing where the clock was near enough. */
export const putRightMs = (clockOffsetMs: number) =>
  Math.abs(clockOffsetMs) > nearEnoughMs ? clockOffsetMs : 0

/** An instant moved; one that no calendar has stays as it is, to be refused for what it is. */
export function moved(instant: string, byMs: number): string {
  const at = Date.parse(instant) + byMs
  return byMs !== 0 && Math.abs(at) <= 8.64e15 ? new Date(at).toISOString() : instant
}

/** Where each kind of body holds times by the device's clock. Days are those that a form fills in with the present one. */
const timesOf: Partial<Record<EntryKind, { instants?: string[]; days?: string[] }>> = {
  'urgent-note': { instants: ['toldAt'] },
  closing: { instants: ['visit.startedAt', 'visit.endedAt', 'urgentNote.toldAt'] },
  'visit-draft': { instants: ['startedAt', 'endedAt'] },
  'found-tree': { days: ['tree.goneOn'] },
  'tree-change': { days: ['tree.goneOn'] },
  failure: { days: ['on'] },
  'tree-event': { days: ['on'] },
  'walk-over': { days: ['on'] },
}

/**
 * A body with the times of a device's clock put right. A day is moved only where it is the day on which the entry was made by that
 * clock: another one was chosen by a person.
 */
export function withTimesPutRight<B>(
  kind: EntryKind,
  body: B,
  { madeAt, byMs, timeZone }: { madeAt: string; byMs: number; timeZone: string },
): B {
  const { instants = [], days = [] } = timesOf[kind] ?? {}
  if (byMs === 0) return body
  const dayMade = today(timeZone, new Date(madeAt))
  const shift = daysBetween(dayMade, today(timeZone, new Date(moved(madeAt, byMs))))
  let out = body
  for (const path of instants) out = at(out, path.split('.'), (value) => moved(value, byMs))
  for (const path of days)
    out = at(out, path.split('.'), (value) => (value === dayMade ? addDays(value, shift) : value))
  return out
}

/** A copy with the text at a path changed; the same where there is none. */
function at<T>(value: T, [key, ...rest]: string[], change: (text: string) => string): T {
  if (key === undefined) return (typeof value === 'string' ? change(value) : value) as T
  if (typeof value !== 'object' || value === null) return value
  return { ...value, [key]: at((value as Record<string, unknown>)[key], rest, change) }
}
