const HOUR_MS = 3_600_000
const DAY_MS = 24 * HOUR_MS

/** A clock on the wall of a time zone, for many readings in a row. */
export interface WallClock {
  /** Minutes that the clock is ahead of UTC at an instant. */
  offsetMinutes(atMs: number): number
  /**
   * Instants at which the clock showed a civil time, given as milliseconds as if it were UTC: one as a rule, two in the hour
   * that clocks are put back (the earlier first), none in the hour that they are put forward.
   */
  instantsOf(wallMs: number): number[]
}

/** The clock of a time zone by its IANA name, or UTC; null for a name that is none. */
export function wallClock(timeZone: string): WallClock | null {
  let format: Intl.DateTimeFormat
  try {
    format = new Intl.DateTimeFormat('en-US', {
      timeZone,
      hourCycle: 'h23',
      year: 'numeric',
      month: 'numeric',
      day: 'numeric',
      hour: 'numeric',
      minute: 'numeric',
    })
  } catch {
    return null
  }
  const asked = new Map<number, number>()
  const ask = (atMs: number) => {
    const known = asked.get(atMs)
    if (known !== undefined) return known
    const part = Object.fromEntries(
      format.formatToParts(atMs).map(({ type, value }) => [type, Number(value)]),
    )
    const wall = Date.UTC(part.year!, part.month! - 1, part.day!, part.hour!, part.minute!)
    const minutes = Math.round((wall - Math.floor(atMs / 60_000) * 60_000) / 60_000)
    asked.set(atMs, minutes)
    return minutes
  }
  const offsetMinutes = (atMs: number) => {
    // Within a day that begins and ends alike the clock was not put; zones put it by quarters of an hour at the finest.
    const day = Math.floor(atMs / DAY_MS) * DAY_MS
    const offset = ask(day)
    return offset === ask(day + DAY_MS) ? offset : ask(Math.floor(atMs / (HOUR_MS / 4)) * (HOUR_MS / 4))
  }
  return {
    offsetMinutes,
    instantsOf(wallMs) {
      const offsets = [offsetMinutes(wallMs - DAY_MS), offsetMinutes(wallMs + DAY_MS)]
      const found = new Set<number>()
      for (const minutes of offsets) {
        const at = wallMs - minutes * 60_000
        if (offsetMinutes(at) === minutes) found.add(at)
      }
      return [...found].sort((a, b) => a - b)
    },
  }
}
