import { methodVersion } from './method.ts'
import { lateFrom, type Problem } from './problem.ts'
import { clockSecond } from './shifts.ts'
import type { DaySheet, RoundPlan, RoundStop, UnplacedVisit } from './types.ts'

/** One planned shift as a day sheet with clock times. `route` holds tree numbers in order, at least one. */
function sheetOf(problem: Problem, r: number, route: ArrayLike<number>): DaySheet {
  const { seconds, places, shifts, startPlace, endPlace, matrix, input, visits, windows, service } = problem
  const shift = shifts[r]
  const stops: RoundStop[] = []
  let from = startPlace[r]
  let working = shift.openSecond
  let leftAt = shift.openSecond
  let pauseStart = -1
  let travel = 0
  let travelM = 0
  let serving = 0
  for (let i = 0; i < route.length; i++) {
    const tree = route[i]
    const way = seconds[from * places + tree]
    const wayM = matrix.metres(from, tree)
    working += way
    const arrive = clockSecond(shift, working)
    working = windows.earliest(tree, r, working)
    const start = clockSecond(shift, working)
    // The pause falls between two stops: before setting out where the arrival is already moved, else while waiting.
    if (pauseStart < 0 && start > working)
      pauseStart = arrive >= shift.pauseAtSecond ? leftAt : shift.pauseAtSecond
    working += service[tree]
    leftAt = start + service[tree]
    stops.push({
      visitId: visits[tree].id,
      order: i + 1,
      arriveMinute: arrive / 60,
      startMinute: start / 60,
      leaveMinute: leftAt / 60,
      travelMinutes: way / 60,
      travelM: wayM,
    })
    travel += way
    travelM += wayM
    serving += service[tree]
    from = tree
  }
  const home = seconds[from * places + endPlace[r]]
  working += home
  // Back at the very second of the pause means no pause was needed any more.
  const end = working > shift.pauseAtSecond ? working + shift.pauseSeconds : working
  if (pauseStart < 0 && end > working) pauseStart = leftAt
  return {
    crewId: input.crews[shift.crew].id,
    date: shift.date,
    stops,
    startMinute: shift.openSecond / 60,
    endMinute: end / 60,
    travelMinutes: (travel + home) / 60,
    travelM: travelM + matrix.metres(from, endPlace[r]),
    serviceMinutes: serving / 60,
    ...(pauseStart >= 0 ? { break: { startMinute: pauseStart / 60, minutes: shift.pauseSeconds / 60 } } : {}),
  }
}

/** A plan from the trees of every shift. */
export function planOf(
  problem: Problem,
  routes: readonly ArrayLike<number>[],
  unplaced: UnplacedVisit[],
  made: { seed: number; iterations: number },
): RoundPlan {
  const { input, weights, shifts, visits, matrix } = problem
  const sheets: DaySheet[] = (input.frozen ?? []).map((sheet) => ({ ...sheet, frozen: true }))
  let travelMinutes = 0
  let riskDays = 0
  routes.forEach((route, r) => {
    if (route.length === 0) return
    const sheet = sheetOf(problem, r, route)
    sheets.push(sheet)
    travelMinutes += sheet.travelMinutes
    for (let i = 0; i < route.length; i++) {
      const visit = visits[route[i]]
      riskDays += visit.riskWeight * Math.max(0, shifts[r].day - lateFrom(visit))
    }
  })
  const crewOrder = new Map(input.crews.map((crew, i) => [crew.id, i]))
  const rank = (sheet: DaySheet) => crewOrder.get(sheet.crewId) ?? input.crews.length
  sheets.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : rank(a) - rank(b)))
  const travelSeconds = Math.round(travelMinutes * 60)
  const unserved = unservedPrice(problem, unplaced)
  return {
    daySheets: sheets,
    unplaced,
    cost: {
      travelSeconds,
      riskDays,
      unserved,
      total: travelSeconds + weights.secondsPerRiskDay * riskDays + unserved,
    },
    weights,
    travelSource: { source: matrix.source, asOf: matrix.asOf },
    ...made,
    methodVersion,
  }
}

function unservedPrice({ visits, price }: Problem, unplaced: readonly UnplacedVisit[]): number {
  const left = new Set(unplaced.map((row) => row.visitId))
  return visits.reduce((sum, visit, tree) => sum + (left.has(visit.id) ? price[tree] : 0), 0)
}
