import { dayNumber, weekday } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { checkPlan } from './check.ts'
import { planRounds } from './plan.ts'
import { costOf } from './recount.ts'
import { Random } from './search/random.ts'
import { aCrew, anInput, aVisit } from './testing.ts'
import { matrixTravel, type TravelPoint } from './travel.ts'
import type { RoundInput } from './types.ts'

// Every order of every choice of trees is tried here, so the least cost is known without trusting the planner.

const cases = 200

/** Up to seven trees, one or two shifts of two hours; every other case has ways that differ there and back and break the triangle. */
function smallCase(seed: number): RoundInput {
  const random = new Random(seed)
  const trees = 3 + random.below(5)
  const shifts = 1 + random.below(2)
  const hours = { fromMinute: 480, toMinute: 600 }
  const crew = aCrew({ hours: [hours, hours, hours, hours, hours, null, null] })
  const visits = Array.from({ length: trees }, (_, i) => {
    const opens = 480 + 15 * random.below(6)
    return aVisit(`t${i}`, random.below(9000) - 4500, random.below(9000) - 4500, {
      serviceMinutes: 5 + random.below(25),
      riskWeight: random.below(20),
      dueOn: `2026-11-${10 + random.below(15)}`,
      priceUnserved: random.below(9000),
      ...(random.below(3) === 0 ? { windows: [{ fromMinute: opens, toMinute: opens + 40 }] } : {}),
    })
  })
  const input = anInput({ visits, crews: [crew], days: shifts })
  return seed % 2 === 0 ? input : { ...input, travel: crookedTravel(visits.length, random) }
}

function crookedTravel(trees: number, random: Random) {
  const keys = ['start:north', ...Array.from({ length: trees }, (_, i) => `visit:t${i}`)]
  const seconds = Array.from({ length: keys.length ** 2 }, () => 60 + random.below(1500))
  return matrixTravel({
    keys,
    seconds,
    metres: seconds,
    source: 'drawn by lot',
    asOf: null,
    sameAs: { 'end:north': 'start:north' },
  })
}

/** The least cost over all plans, by trying them all. */
function leastCost(input: RoundInput): number {
  const { visits } = input
  const keys = ['start:north', 'end:north', ...visits.map(({ id }) => `visit:${id}`)]
  const points: TravelPoint[] = keys.map((key, i) => ({
    key,
    longitude: visits[i - 2]?.longitude ?? 10,
    latitude: visits[i - 2]?.latitude ?? 0,
  }))
  const answer = input.travel.matrix(points)
  if (!answer.ok) throw new Error('no ways')
  const way = (from: number, to: number) => answer.value.seconds[from * keys.length + to]
  const dates = ['2026-11-23', '2026-11-24'].slice(0, input.days as number)
  const done = visits.map(() => false)
  let least = Number.POSITIVE_INFINITY

  const begin = (shift: number, cost: number) => {
    if (shift < dates.length) return goOn(shift, 0, 480 * 60, cost, true)
    const left = visits.reduce((sum, visit, i) => sum + (done[i] ? 0 : (visit.priceUnserved ?? 0)), 0)
    least = Math.min(least, cost + left)
  }
  const goOn = (shift: number, from: number, now: number, cost: number, empty: boolean) => {
    if (cost >= least) return
    const home = empty ? 0 : way(from, 1)
    if (now + home <= 600 * 60) begin(shift + 1, cost + home)
    visits.forEach((visit, i) => {
      if (done[i]) return
      const window = visit.windows?.[0]
      const start = Math.max(now + way(from, i + 2), (window?.fromMinute ?? 0) * 60)
      const leave = start + visit.serviceMinutes * 60
      if (leave > (window?.toMinute ?? 1440) * 60 || leave > 600 * 60) return
      const late = 30 * visit.riskWeight * Math.max(0, dayNumber(dates[shift]) - dayNumber(visit.dueOn))
      done[i] = true
      goOn(shift, i + 2, leave, cost + way(from, i + 2) + late, false)
      done[i] = false
    })
  }
  begin(0, 0)
  return least
}

describe(`${cases} small cases against every possible plan`, () => {
  it('never costs less than the least, and reaches it', () => {
    expect(weekday('2026-11-23')).toBe(0)
    let reached = 0
    let worst = 0
    for (let seed = 1; seed <= cases; seed++) {
      const input = smallCase(seed)
      const outcome = planRounds(input, { seed, iterations: 1000 })
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
      expect(checkPlan(outcome.value, input)).toEqual([])
      const cost = costOf(outcome.value, input).total
      const least = leastCost(input)
      expect(cost).toBeGreaterThanOrEqual(least)
      if (cost === least) reached++
      worst = Math.max(worst, cost / least - 1)
    }
    expect(reached).toBeGreaterThanOrEqual(0.97 * cases)
    expect(worst).toBeLessThan(0.05)
  }, 60_000)
})
