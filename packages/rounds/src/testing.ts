import { addDays, type CivilDate, type VisitLevel } from '@underbough/model'
import { Random } from './search/random.ts'
import { straightLineTravel } from './travel.ts'
import type { Crew, RoundInput, RoundVisit } from './types.ts'

/** Invented visits and crews for the tests and the bench; all around an invented harbour town on the equator. */

const office = [10, 0] as const
const metresPerDegree = 111_320

/** A weekday crew, eight to four, with every field open to change. */
export function aCrew(change: Partial<Crew> = {}): Crew {
  const hours = { fromMinute: 480, toMinute: 960 }
  return {
    id: 'north',
    name: 'North',
    level: 3,
    equipment: [],
    members: ['M. Orrin'],
    start: office,
    end: office,
    hours: [hours, hours, hours, hours, hours, null, null],
    daysOff: [],
    ...change,
  }
}

/** A level 1 visit so many metres east and north of the office. */
export function aVisit(
  id: string,
  eastM: number,
  northM: number,
  change: Partial<RoundVisit> = {},
): RoundVisit {
  return {
    id,
    longitude: office[0] + eastM / metresPerDegree,
    latitude: office[1] + northM / metresPerDegree,
    serviceMinutes: 10,
    level: 1,
    equipment: [],
    riskWeight: 1,
    dueOn: '2026-11-23',
    ...change,
  }
}

/** Monday 23 November 2026, one working day, straight lines. */
export function anInput(change: Partial<RoundInput> = {}): RoundInput {
  return {
    visits: [],
    crews: [aCrew()],
    from: '2026-11-23',
    days: 1,
    travel: straightLineTravel(),
    ...change,
  }
}

/** A seeded town of 8 km: four fifths of the trees in sixty streets and parks, some advanced visits, some hours, some overdue. */
export function aTown(trees: number, crews: number, days: number, seed = 42): RoundInput {
  const random = new Random(seed)
  const from: CivilDate = '2026-11-23'
  const clusters = Array.from({ length: 60 }, () => [
    random.unit() * 8000,
    random.unit() * 8000,
    100 + random.unit() * 500,
  ])
  const spread = () => random.unit() + random.unit() - 1
  const visits = Array.from({ length: trees }, (_, i) => {
    const cluster = clusters[random.below(60)]
    const near = random.unit() < 0.8
    const east = near ? cluster[0] + spread() * cluster[2] : random.unit() * 8000
    const north = near ? cluster[1] + spread() * cluster[2] : random.unit() * 8000
    const level: VisitLevel = pick(random, [0.7, 0.93], [1, 2, 3] as const)
    const serviceMinutes = { 1: 4, 2: 12, 3: 40 }[level]
    const opens = 480 + 60 * random.below(5)
    return aVisit(`tree-${i}`, east - 4000, north - 4000, {
      level,
      serviceMinutes,
      equipment: level === 3 ? ['borer'] : [],
      riskWeight: pick(random, [0.7, 0.9, 0.98], [1, 3, 10, 30] as const),
      dueOn: addDays(from, Math.floor(random.unit() * days * 1.3) - Math.floor(days * 0.3)),
      ...(random.unit() < 0.1
        ? { windows: [{ fromMinute: opens, toMinute: opens + 120 + serviceMinutes }] }
        : {}),
    })
  })
  const all = Array.from({ length: crews }, (_, i) =>
    aCrew({
      id: `crew-${i + 1}`,
      level: i === 0 ? 3 : 2,
      equipment: i === 0 ? ['borer'] : [],
      break: { minutes: 30 },
    }),
  )
  return anInput({ visits, crews: all, from, days })
}

function pick<T>(random: Random, limits: readonly number[], values: readonly T[]): T {
  const at = random.unit()
  const i = limits.findIndex((limit) => at < limit)
  return values[i < 0 ? values.length - 1 : i]
}
