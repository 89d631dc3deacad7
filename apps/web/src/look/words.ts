import { type CivilDate, dayNumber } from '@underbough/model'

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
const weekdays = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun']

/** `3 May 2026`; without the year when `shortForm` is true. */
export function sayDate(date: CivilDate, shortForm = false): string {
  const [y, m, d] = date.split('-').map(Number) as [number, number, number]
  return `${d} ${months[m - 1]}${shortForm ? '' : ` ${y}`}`
}
/** `Tue 1 Dec`. */
export const sayDay = (date: CivilDate) =>
  `${weekdays[(((dayNumber(date) + 3) % 7) + 7) % 7]} ${sayDate(date, true)}`
export const monthName = (index: number) => months[index]!

/** `4 days`, `3 weeks`, `5 months`: the length a person would say. */
export function sayLength(days: number): string {
  const n = Math.abs(days)
  const say = (count: number, unit: string) => `${count} ${unit}${count === 1 ? '' : 's'}`
  if (n < 14) return say(n, 'day')
  if (n < 183) return say(Math.round(n / 7), 'week')
  if (n < 730) return say(Math.round(n / 30.44), 'month')
  return say(Math.floor(n / 365.25), 'year')
}
/** `14:02` of an instant, in the person's own zone. */
export const sayTime = (instant: string | number | Date) =>
  new Date(instant).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })

/** People under a fall: two figures below ten, whole above; never a bare zero for a small number. */
export function sayPeople(n: number): string {
  if (n === 0) return '0'
  if (n < 0.005) return 'under 0.01'
  if (n < 0.095) return n.toFixed(2)
  return n < 10 ? n.toFixed(1) : String(Math.round(n))
}
export const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
/** `1 tree`, `12 trees`. */
export const count = (n: number, one: string, many = `${one}s`) =>
  `${n.toLocaleString('en-GB')} ${n === 1 ? one : many}`

const firstTen = [
  'first',
  'second',
  'third',
  'fourth',
  'fifth',
  'sixth',
  'seventh',
  'eighth',
  'ninth',
  'tenth',
]
/** `third`, `37th`. */
export function sayOrdinal(n: number): string {
  const tail = n % 100 > 10 && n % 100 < 14 ? 'th' : (['th', 'st', 'nd', 'rd'][n % 10] ?? 'th')
  return firstTen[n - 1] ?? `${n}${tail}`
}
