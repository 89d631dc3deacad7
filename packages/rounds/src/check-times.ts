import type { Refusal } from '@underbough/model'
import type { Ways } from './recount.ts'
import type { DaySheet, RoundStop, RoundVisit } from './types.ts'

/** Minutes are compared to within a second's rounding. */
export const tolerance = 0.02

/** Notes one fault of a plan. */
export type Say = (code: Refusal['code'], path: string, message: string, value?: unknown) => void

/** Where the checker stands while it walks through a day. */
interface Walk {
  sheet: DaySheet
  ways: Ways
  say: Say
  from: string
  clock: number
  travel: number
  metres: number
  service: number
}

/** Walks through one day sheet and notes every time, way or sum that does not follow from what came before. */
export function checkTimes(
  sheet: DaySheet,
  visits: ReadonlyMap<string, RoundVisit>,
  ways: Ways,
  path: string,
  say: Say,
): void {
  const walk: Walk = {
    sheet,
    ways,
    say,
    from: `start:${sheet.crewId}`,
    clock: sheet.startMinute,
    travel: 0,
    metres: 0,
    service: 0,
  }
  for (const [i, stop] of sheet.stops.entries()) {
    const visit = visits.get(stop.visitId)
    if (visit) checkStop(walk, stop, visit, `${path}.stops.${i}`)
  }
  checkEnd(walk, path)
}

const differ = (a: number, b: number) => Math.abs(a - b) > tolerance

/** Minutes of pause that lie after the clock and before a moment. */
function pausedBetween({ sheet: { break: pause }, clock }: Walk, until: number): number {
  return pause && pause.startMinute >= clock - tolerance && pause.startMinute < until - tolerance
    ? pause.minutes
    : 0
}

function checkStop(walk: Walk, stop: RoundStop, visit: RoundVisit, at: string): void {
  const { ways, say, sheet } = walk
  const { arriveMinute, startMinute, leaveMinute, travelMinutes, travelM } = stop
  const place = `visit:${visit.id}`
  const way = ways.secondsOf(walk.from, place) / 60
  const metres = ways.metresOf(walk.from, place)
  if (differ(travelMinutes, way))
    say('out-of-range', `${at}.travelMinutes`, 'The way takes another time.', travelMinutes)
  if (Math.abs(travelM - metres) > 2)
    say('out-of-range', `${at}.travelM`, 'The way has another length.', travelM)
  if (differ(arriveMinute, walk.clock + way + pausedBetween(walk, arriveMinute)))
    say('out-of-range', `${at}.arriveMinute`, 'Arrival is not the last leaving and the way.', arriveMinute)
  walk.clock = arriveMinute
  if (startMinute < arriveMinute + pausedBetween(walk, startMinute) - tolerance)
    say('out-of-range', `${at}.startMinute`, 'The visit begins before arrival.', startMinute)
  if (differ(leaveMinute, startMinute + visit.serviceMinutes))
    say('out-of-range', `${at}.leaveMinute`, 'The visit takes another time.', leaveMinute)
  const pause = sheet.break
  const pauseEnd = pause ? pause.startMinute + pause.minutes : 0
  if (pause && pause.startMinute < leaveMinute - tolerance && pauseEnd > startMinute + tolerance)
    say('crew-hours', `${at}.startMinute`, 'The visit lies in the pause.', startMinute)
  walk.clock = leaveMinute
  walk.from = place
  walk.travel += way
  walk.metres += metres
  walk.service += visit.serviceMinutes
}

function checkEnd(walk: Walk, path: string): void {
  const { sheet, ways, say, from } = walk
  const stops = sheet.stops.length
  const home = ways.secondsOf(from, `end:${sheet.crewId}`) / 60
  const metres = walk.metres + ways.metresOf(from, `end:${sheet.crewId}`)
  if (differ(sheet.endMinute, walk.clock + home + pausedBetween(walk, sheet.endMinute)))
    say('out-of-range', `${path}.endMinute`, 'The end is not the last leaving and the way.', sheet.endMinute)
  if (differ(sheet.travelMinutes, walk.travel + home))
    say('out-of-range', `${path}.travelMinutes`, 'The ways do not add up.', sheet.travelMinutes)
  if (Math.abs(sheet.travelM - metres) > 2 * (stops + 1))
    say('out-of-range', `${path}.travelM`, 'The metres do not add up.', sheet.travelM)
  if (Math.abs(sheet.serviceMinutes - walk.service) > tolerance * (1 + stops))
    say('out-of-range', `${path}.serviceMinutes`, 'The minutes at trees do not add up.', sheet.serviceMinutes)
}
