import { type CivilDate, dayNumber, done, type Outcome, refused } from '@underbough/model'
import { hilbertOrder } from './hilbert.ts'
import { openShifts, type Shift, workingDays } from './shifts.ts'
import { noWaySeconds, type TravelMatrix, type TravelPoint } from './travel.ts'
import type { Crew, RoundInput, RoundVisit, RoundWeights } from './types.ts'
import { defaultWeights } from './weights.ts'
import { type StartWindows, startWindows } from './windows.ts'

/**
 * The input in whole seconds and flat arrays, as the search needs it. Trees are numbered along a space-filling curve,
 * so that neighbours lie near each other in memory too. Places: the trees, then each crew's start and end.
 */
export interface Problem {
  input: RoundInput
  weights: RoundWeights
  days: CivilDate[]
  visits: RoundVisit[]
  shifts: Shift[]
  matrix: TravelMatrix
  /** Number of trees, of places, of shifts. */
  trees: number
  places: number
  seconds: Int32Array
  service: Int32Array
  startPlace: Int32Array
  endPlace: Int32Array
  windows: StartWindows
  /** `allowed[tree * shifts + shift]`: level, equipment, pin, window and an otherwise empty day permit it. */
  allowed: Uint8Array
  /** Price of leaving a tree out. */
  price: Int32Array
  /** `lateness[tree * days + day]`: price of coming that late. */
  lateness: Int32Array
}

const most = 1_000_000_000

/** Day number from which lateness counts. */
export function lateFrom(visit: RoundVisit): number {
  const due = dayNumber(visit.dueOn)
  return visit.overdueSince === undefined ? due : Math.min(due, dayNumber(visit.overdueSince))
}

/** True when the crew may do the visit at all: level, equipment and pinned crew. */
export function suits(crew: Crew, visit: RoundVisit): boolean {
  if (visit.pinned?.crewId !== undefined && visit.pinned.crewId !== crew.id) return false
  return crew.level >= visit.level && visit.equipment.every((item) => crew.equipment.includes(item))
}

/** Builds the problem from input that was checked. Refuses what the travel model refuses. */
export function problemOf(input: RoundInput): Outcome<Problem> {
  const days = workingDays(input)
  const shifts = openShifts(input, days)
  const issued = new Set((input.frozen ?? []).flatMap((sheet) => sheet.stops.map((stop) => stop.visitId)))
  const left = input.visits.filter((visit) => !issued.has(visit.id))
  const visits = hilbertOrder(left, (visit) => [visit.longitude, visit.latitude])
  const answer = input.travel.matrix(placesOf(visits, input.crews))
  if (!answer.ok) return refused(...answer.refusals)
  const matrix = answer.value
  const trees = visits.length
  const service = Int32Array.from(visits, (visit) => Math.round(visit.serviceMinutes * 60))
  const problem: Problem = {
    input,
    weights: { ...defaultWeights, ...input.weights },
    days,
    visits,
    shifts,
    matrix,
    trees,
    places: trees + 2 * input.crews.length,
    seconds: matrix.seconds,
    service,
    startPlace: Int32Array.from(shifts, (shift) => trees + 2 * shift.crew),
    endPlace: Int32Array.from(shifts, (shift) => trees + 2 * shift.crew + 1),
    windows: startWindows(visits, shifts, service),
    allowed: new Uint8Array(trees * shifts.length),
    price: new Int32Array(trees),
    lateness: new Int32Array(trees * days.length),
  }
  fillPrices(problem)
  fillAllowed(problem)
  return done(problem)
}

function placesOf(visits: readonly RoundVisit[], crews: readonly Crew[]): TravelPoint[] {
  return [
    ...visits.map(({ id, longitude, latitude }) => ({ key: `visit:${id}`, longitude, latitude })),
    ...crews.flatMap(({ id, start, end }) => [
      { key: `start:${id}`, longitude: start[0], latitude: start[1] },
      { key: `end:${id}`, longitude: end[0], latitude: end[1] },
    ]),
  ]
}

function fillPrices({
  visits,
  input,
  weights,
  days,
  seconds,
  places,
  trees,
  price,
  lateness,
}: Problem): void {
  const dayNumbers = days.map(dayNumber)
  const carriedTo = dayNumbers[dayNumbers.length - 1] + weights.carriedOverDays
  visits.forEach((visit, tree) => {
    const since = lateFrom(visit)
    const late = (day: number) =>
      Math.min(most, Math.round(weights.secondsPerRiskDay * visit.riskWeight * Math.max(0, day - since)))
    dayNumbers.forEach((day, i) => {
      lateness[tree * days.length + i] = late(day)
    })
    let alone = 0
    input.crews.forEach((crew, i) => {
      const start = trees + 2 * i
      const way = seconds[start * places + tree] + seconds[tree * places + start + 1]
      if (suits(crew, visit) && way < noWaySeconds) alone = Math.max(alone, way)
    })
    price[tree] = Math.round(
      visit.priceUnserved ?? Math.min(most, weights.unservedBaseSeconds + alone + late(carriedTo)),
    )
  })
}

function fillAllowed(problem: Problem): void {
  const { visits, shifts, input, allowed } = problem
  visits.forEach((visit, tree) => {
    const fits = input.crews.map((crew) => suits(crew, visit))
    shifts.forEach((shift, r) => {
      if (!fits[shift.crew]) return
      if (visit.pinned?.date !== undefined && visit.pinned.date !== shift.date) return
      if (fitsEmptyDay(problem, tree, r)) allowed[tree * shifts.length + r] = 1
    })
  })
}

/** True when the shift could hold this tree and nothing else. */
function fitsEmptyDay(
  { seconds, places, startPlace, endPlace, shifts, windows, service }: Problem,
  tree: number,
  r: number,
): boolean {
  const arrive = shifts[r].openSecond + seconds[startPlace[r] * places + tree]
  const start = windows.earliest(tree, r, arrive)
  return start + service[tree] + seconds[tree * places + endPlace[r]] <= shifts[r].closeSecond
}
