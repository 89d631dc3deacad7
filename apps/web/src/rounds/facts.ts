import { type CivilDate, dayNumber } from '@underbough/model'
import type { DayFacts } from '@underbough/pictures'
import type { Crew, DaySheet, PlanHead, PlanWhole } from '../api/index.ts'

type Sheet = PlanWhole['daySheets'][number]

/** The days of a plan in order, each with the sheet of every crew that works on it. */
export function daysOf(sheets: readonly Sheet[]): { date: CivilDate; byCrew: ReadonlyMap<string, Sheet> }[] {
  const days = new Map<CivilDate, Map<string, Sheet>>()
  for (const sheet of sheets) {
    const day = days.get(sheet.date) ?? new Map<string, Sheet>()
    day.set(sheet.crewId, sheet)
    days.set(sheet.date, day)
  }
  return [...days].sort(([a], [b]) => (a < b ? -1 : 1)).map(([date, byCrew]) => ({ date, byCrew }))
}

/** A crew's day as its line is drawn; says why nothing is there when nothing is. */
export function dayFacts(crew: Crew, date: CivilDate, sheet: DaySheet | undefined): DayFacts {
  const stops = sheet?.stops ?? []
  return {
    letter: crew.letter,
    stops: stops.map((stop) => ({
      id: stop.id,
      startMinute: stop.startMinute,
      leaveMinute: stop.leaveMinute,
      risk: stop.tree.risk,
      overdue: stop.tree.overdueDays > 0,
      visited: stop.tree.seen,
    })),
    startMinute: sheet?.startMinute ?? 0,
    endMinute: sheet?.endMinute ?? 0,
    travelM: sheet?.travelM ?? 0,
    absent: sheet ? null : whyAbsent(crew, date),
  }
}

function whyAbsent(crew: Crew, date: CivilDate): { why: string; more: string } {
  if (crew.daysOff.includes(date)) return { why: 'Day off', more: 'no stops' }
  const weekday = (((dayNumber(date) + 3) % 7) + 7) % 7
  return crew.hours[weekday]
    ? { why: 'No stops', more: 'nothing left for this day' }
    : { why: 'No work', more: 'not a working day' }
}

/** Trees left over, gathered by the reason; few of a kind stand one by one, many as one line. */
export function leftOver(
  unplaced: PlanWhole['unplaced'],
  few = 4,
): { key: string; rows: PlanWhole['unplaced']; message: string }[] {
  const groups = new Map<string, PlanWhole['unplaced']>()
  for (const row of unplaced) groups.set(row.code, [...(groups.get(row.code) ?? []), row])
  const order = (row: PlanWhole['unplaced'][number]) =>
    ['extreme', 'high', 'moderate', 'low', null].indexOf(row.tree.risk)
  return [...groups].flatMap(([code, rows]) => {
    const sorted = rows.toSorted((a, b) => order(a) - order(b) || b.tree.overdueDays - a.tree.overdueDays)
    const single = sorted
      .slice(0, few)
      .map((row) => ({ key: row.tree.id, rows: [row], message: row.message }))
    const rest = sorted.slice(few)
    return rest.length > 0 ? [...single, { key: code, rows: rest, message: rest[0]!.message }] : single
  })
}

interface Cost {
  travelSeconds: number
  riskDays: number
  unserved: number
  total: number
  weights?: { secondsPerRiskDay: number }
}
/** What a plan says of itself in one sentence, against going by urgency to the nearest next tree. */
export function saySaving(plan: PlanHead, placed: number, left: number): string {
  const cost = plan.cost as Cost | null
  const peer = plan.peerCost as Cost | null
  const first = `${placed} ${placed === 1 ? 'tree' : 'trees'} on the rounds, ${left} left over.`
  if (!cost || !peer || plan.savedShare === null) return first
  const share = Math.round(plan.savedShare * 100)
  const less = peer.travelSeconds - cost.travelSeconds
  const way = `${sayHours(Math.abs(less) / 3600)} ${less >= 0 ? 'less' : 'more'} on the way`
  return `${first} Against going by urgency to the nearest next tree it costs ${share} % less, with ${way}.`
}

const sayHours = (hours: number) =>
  hours < 1.95 ? `${Math.round(hours * 60)} minutes` : `${Math.round(hours)} hours`
