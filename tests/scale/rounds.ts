import { existsSync } from 'node:fs'
import {
  checkPlan,
  planRounds,
  type RoundInput,
  type RoundPlan,
  urgencyThenNearest,
} from '@underbough/rounds'
import { aTown } from '../../packages/rounds/src/testing.ts'
import {
  berlin52,
  burma14,
  geoDistance,
  planeDistance,
  readTour,
  tourInput,
} from '../published/rounds-data.ts'
import type { BenchRow } from './row.ts'

const folder = new URL('../../../shared/data/routing/', import.meta.url)

/** Rounds for invented towns against urgency and nearest neighbour, and published tours against their optimum. */
export async function run(): Promise<BenchRow[]> {
  return [
    ...town(1000, 3, 10, 60_000),
    ...town(1500, 4, 10, 150_000),
    ...town(3000, 6, 10, 100_000),
    tour('burma14', tourInput(burma14, geoDistance), 3323),
    tour('berlin52', tourInput(berlin52, planeDistance), 7542),
    ...fileTour('kroA100', 21282),
    ...fileTour('a280', 2579),
  ]
}

function timed(
  input: RoundInput,
  iterations: number,
): { plan: RoundPlan; seconds: number; firstSeconds: number } {
  const began = performance.now()
  let firstSeconds = 0
  const outcome = planRounds(input, {
    seed: 1,
    iterations,
    onProgress: ({ iteration }) => {
      if (iteration === 0) firstSeconds = (performance.now() - began) / 1000
    },
  })
  const seconds = (performance.now() - began) / 1000
  if (!outcome.ok) throw new Error(outcome.refusals.map((one) => one.message).join(' '))
  const faults = checkPlan(outcome.value, input)
  if (faults.length > 0)
    throw new Error(`${faults.length} faults, the first: ${faults[0].path} ${faults[0].message}`)
  return { plan: outcome.value, seconds, firstSeconds }
}

function town(trees: number, crews: number, days: number, iterations: number): BenchRow[] {
  const input = aTown(trees, crews, days)
  const { plan, seconds, firstSeconds } = timed(input, iterations)
  const greedy = urgencyThenNearest(input)
  if (!greedy.ok) throw new Error('the plain peer refused')
  const title = `${trees} trees, ${crews * days} crew-days`
  const against = (what: string, unit: string, figure: number, peer: number): BenchRow => ({
    case: `${title}: ${what}`,
    figure,
    unit,
    peer: 'urgency, then nearest',
    peerFigure: peer,
    ...(peer > 0 ? { ratio: figure / peer } : {}),
  })
  return [
    { case: `${title}: first valid plan`, figure: firstSeconds, unit: 's' },
    { case: `${title}: plan`, figure: seconds, unit: 's', note: `${iterations} steps` },
    against('cost', 's', plan.cost.total, greedy.value.cost.total),
    against('on the way', 's', plan.cost.travelSeconds, greedy.value.cost.travelSeconds),
    against('overdue', 'risk-days', plan.cost.riskDays, greedy.value.cost.riskDays),
    against('left out', 'trees', plan.unplaced.length, greedy.value.unplaced.length),
  ]
}

function tour(title: string, input: RoundInput, optimum: number): BenchRow {
  const { plan, seconds } = timed(input, 20_000)
  const { travelSeconds } = plan.cost
  return {
    case: `tour ${title}`,
    figure: travelSeconds,
    unit: 'length',
    peer: 'optimum of TSPLIB95',
    peerFigure: optimum,
    ratio: travelSeconds / optimum,
    note: `20000 steps in ${seconds.toFixed(2)} s`,
  }
}

function fileTour(title: string, optimum: number): BenchRow[] {
  const file = new URL(`${title}.tsp`, folder)
  return existsSync(file) ? [tour(title, tourInput(readTour(file.pathname), planeDistance), optimum)] : []
}
