import { existsSync } from 'node:fs'
import { checkPlan, planRounds, type RoundInput, type RoundPlan } from '@underbough/rounds'
import { describe, expect, it } from 'vitest'
import {
  berlin52,
  burma14,
  geoDistance,
  planeDistance,
  readSolomon,
  readTour,
  solomonInput,
  tourInput,
} from './rounds-data.ts'

const folder = new URL('../../../shared/data/routing/', import.meta.url)
const path = (name: string) => new URL(name, folder).pathname
const lacking = (name: string) =>
  existsSync(path(name)) ? '' : ` (left out: ${name} is not on this machine)`

function planned(input: RoundInput, iterations: number): RoundPlan {
  const outcome = planRounds(input, { seed: 1, iterations })
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  expect(checkPlan(outcome.value, input)).toEqual([])
  expect(outcome.value.unplaced).toEqual([])
  return outcome.value
}

/** Never below the published optimum, and above it by at most the given share. */
function expectNear(seconds: number, optimum: number, share: number): void {
  expect(seconds).toBeGreaterThanOrEqual(optimum)
  expect(seconds).toBeLessThanOrEqual(optimum * (1 + share))
}

describe('one shift against the optimal tours of TSPLIB95 (Reinelt 1991, doi 10.1287/ijoc.3.4.376)', () => {
  it('burma14: optimum 3323', () => {
    expectNear(planned(tourInput(burma14, geoDistance), 2000).cost.travelSeconds, 3323, 0)
  })

  it('berlin52: optimum 7542', () => {
    expectNear(planned(tourInput(berlin52, planeDistance), 10_000).cost.travelSeconds, 7542, 0.01)
  })

  it.skipIf(lacking('kroA100.tsp'))(`kroA100: optimum 21282${lacking('kroA100.tsp')}`, () => {
    expectNear(
      planned(tourInput(readTour(path('kroA100.tsp')), planeDistance), 20_000).cost.travelSeconds,
      21282,
      0.02,
    )
  })

  it.skipIf(lacking('a280.tsp'))(`a280: optimum 2579${lacking('a280.tsp')}`, () => {
    expectNear(
      planned(tourInput(readTour(path('a280.tsp')), planeDistance), 20_000).cost.travelSeconds,
      2579,
      0.04,
    )
  })
})

/**
 * Solomon (1987, doi 10.1287/opre.35.2.254). Optima with distances cut to one decimal, as in Kohl et al. (1999,
 * doi 10.1287/trsc.33.1.101): the figures come from memory. Our crews carry no load, so the published optimum is a lower
 * limit only while every round happens to keep the published capacity; that is asserted too.
 */
describe('many shifts with windows against Solomon’s problems', () => {
  it.skipIf(lacking('R101.txt'))(`R101: optimum 1637.7${lacking('R101.txt')}`, () => {
    const problem = readSolomon(path('R101.txt'))
    const plan = planned(solomonInput(problem), 20_000)
    expect(heaviest(plan, problem)).toBeLessThanOrEqual(problem.capacity)
    expectNear(plan.cost.travelSeconds, 16377, 0.03)
  })

  it.skipIf(lacking('C101.txt'))(`C101: optimum 827.3${lacking('C101.txt')}`, () => {
    const problem = readSolomon(path('C101.txt'))
    const plan = planned(solomonInput(problem), 10_000)
    expect(heaviest(plan, problem)).toBeLessThanOrEqual(problem.capacity)
    expectNear(plan.cost.travelSeconds, 8273, 0.01)
  })
})

function heaviest(plan: RoundPlan, { rows }: ReturnType<typeof readSolomon>): number {
  return Math.max(
    ...plan.daySheets.map((sheet) =>
      sheet.stops.reduce((sum, stop) => sum + rows[Number(stop.visitId)].demand, 0),
    ),
  )
}
