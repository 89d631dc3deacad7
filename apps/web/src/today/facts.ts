import type { Stop } from '../api/index.ts'

export const levelNames = { 1: 'Limited', 2: 'Basic', 3: 'Advanced' } as const

export const hasEndedStop = (stop: Stop): boolean => stop.doneVisitId !== null || stop.skippedBecause !== null

/** The stop to go to: the one a person chose, while it is open, else the first open one; null when the day is done. */
export function nextStop(stops: readonly Stop[], chosenId: string | null): Stop | null {
  const open = stops.filter((stop) => !hasEndedStop(stop))
  return open.find((stop) => stop.id === chosenId) ?? open[0] ?? null
}

/** What is to be done at a stop, in a few words: `Advanced, overdue`. */
export function sayStop(stop: Stop): string {
  if (stop.doneVisitId) return 'visited'
  if (stop.skippedBecause) return `skipped: ${stop.skippedBecause}`
  return [levelNames[stop.level], stop.tree.overdueDays > 0 ? 'overdue' : null].filter(Boolean).join(', ')
}

/** Why a stop is on this day, where the plan did not put it there; null where it did. */
export function sayWhence(stop: Stop): string | null {
  if (stop.handedFrom) return `From ${stop.handedFrom}: ${stop.handedBecause ?? ''}`
  return stop.addedBecause ? `Put on by the crew: ${stop.addedBecause}` : null
}

/** `15:36` of minutes after midnight; `1:10 next day` beyond it. */
export function clock(minute: number): string {
  const words = `${Math.floor(minute / 60) % 24}:${String(Math.floor(minute % 60)).padStart(2, '0')}`
  return minute < 1440 ? words : `${words} next day`
}
/** `3.4 km`, `180 m`. */
export const sayWay = (metres: number): string =>
  metres < 995 ? `${Math.round(metres / 10) * 10} m` : `${(metres / 1000).toFixed(1)} km`
