import { type CivilDate, dayNumber, type OccupancyWord, type WorkKind } from '@underbough/model'
import type { EventKind } from '../policy/policy.ts'

const monthNames = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

/** `2026-06-30` as `30 Jun 2026`. */
export function plainDate(date: CivilDate): string {
  dayNumber(date)
  return `${Number(date.slice(8))} ${monthNames[Number(date.slice(5, 7)) - 1]} ${date.slice(0, 4)}`
}

export const besideTarget: Record<OccupancyWord, string> = {
  constant: 'beside a constant target',
  frequent: 'beside a frequent target',
  occasional: 'beside an occasional target',
  rare: 'where targets are rare',
}

export const workNames: Record<WorkKind, string> = {
  prune: 'prune',
  reduce: 'reduce',
  remove: 'remove',
  brace: 'brace',
  'move-target': 'move the target',
  'close-area': 'close the area',
  monitor: 'monitor',
  'look-deeper': 'look deeper',
}

export const eventNames: Record<EventKind, string> = {
  gust: 'A strong gust',
  digging: 'Digging in the root zone',
  'failure-nearby': 'A failure nearby',
  complaint: 'A complaint',
  'second-look': 'A reading that needs a second look',
  'zone-changed': 'A changed zone',
}

export const every = (months: number) => (months === 1 ? 'every month' : `every ${months} months`)
export const days = (count: number) => (count === 1 ? '1 day' : `${count} days`)
export const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
