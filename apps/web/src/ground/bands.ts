/** Hours of a day with one figure, on working days, at weekends, or on all days. */
export interface Band {
  days: 'working' | 'weekend' | 'all'
  fromHour: number
  toHour: number
  value: number
}
const onDays: Record<Band['days'], readonly number[]> = {
  working: [0, 1, 2, 3, 4],
  weekend: [5, 6],
  all: [0, 1, 2, 3, 4, 5, 6],
}

/** 168 hours from Monday 00:00. A later band overrides an earlier one where both say an hour; hours in none are 0. */
export function hoursOf(bands: readonly Band[]): number[] {
  const hours = new Array<number>(168).fill(0)
  for (const { days, fromHour, toHour, value } of bands)
    for (const day of onDays[days]) for (let h = fromHour; h < toHour; h++) hours[day * 24 + h] = value
  return hours
}

/** Mean of each hour of the day over the given days. */
export function dayMeans(hours: readonly number[], days: Band['days']): number[] {
  return Array.from(
    { length: 24 },
    (_, h) => onDays[days].reduce((sum, day) => sum + hours[day * 24 + h]!, 0) / onDays[days].length,
  )
}

/** The bands that say these hours. `exact` is false where days of one kind differ among themselves and their mean is given. */
export function bandsOf(hours: readonly number[]): { bands: Band[]; exact: boolean } {
  const [working, weekend] = [dayMeans(hours, 'working'), dayMeans(hours, 'weekend')]
  const alike = working.every((v, h) => near(v, weekend[h]!))
  const bands = alike ? runs(working, 'all') : [...runs(working, 'working'), ...runs(weekend, 'weekend')]
  const said = hoursOf(bands)
  return { bands, exact: hours.every((v, h) => near(v, said[h]!)) }
}

const near = (a: number, b: number) => Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a))
function runs(day: readonly number[], days: Band['days']): Band[] {
  const out: Band[] = []
  for (let h = 0; h < 24; h++) {
    const last = out[out.length - 1]
    if (last && last.toHour === h && near(last.value, day[h]!)) last.toHour = h + 1
    else if (day[h]! > 0) out.push({ days, fromHour: h, toHour: h + 1, value: day[h]! })
  }
  return out
}
