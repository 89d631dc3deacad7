/** `08:30` of minutes after midnight; 1440 is `24:00`. */
export const sayMinute = (minute: number): string =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`

/** Minutes after midnight of `8`, `8:30`, `08.30` or `24:00`; null for what is no time of the day. */
export function readMinute(text: string): number | null {
  const found = /^(\d{1,2})(?:[:.](\d{2}))?$/.exec(text.trim())
  if (!found) return null
  const [hour, minute] = [Number(found[1]), Number(found[2] ?? 0)]
  const all = hour * 60 + minute
  return minute < 60 && all <= 1440 ? all : null
}

export const weekdayNames = [
  'Monday',
  'Tuesday',
  'Wednesday',
  'Thursday',
  'Friday',
  'Saturday',
  'Sunday',
] as const

type Day = { fromMinute: number; toMinute: number } | null
/** A crew's week in few words: `Mon to Thu 08:00 to 16:00, Fri 08:00 to 13:00`. Days alike in a row are said once. */
export function sayWeek(hours: readonly Day[]): string {
  const runs: { from: number; to: number; day: NonNullable<Day> }[] = []
  hours.forEach((day, i) => {
    if (!day) return
    const last = runs.at(-1)
    const same =
      last &&
      last.to === i - 1 &&
      last.day.fromMinute === day.fromMinute &&
      last.day.toMinute === day.toMinute
    if (same) last.to = i
    else runs.push({ from: i, to: i, day })
  })
  const name = (i: number) => weekdayNames[i]!.slice(0, 3)
  return (
    runs
      .map(
        ({ from, to, day }) =>
          `${name(from)}${to > from ? ` to ${name(to)}` : ''} ${sayMinute(day.fromMinute)} to ${sayMinute(day.toMinute)}`,
      )
      .join(', ') || 'no working hours'
  )
}

/** Words parted by commas, blanks trimmed, empty ones left out. */
export const readList = (text: string): string[] =>
  text
    .split(',')
    .map((word) => word.trim())
    .filter(Boolean)
