/** Who is there: published traffic and walking figures, the laws of queues and of rare events, and reference rows. */
import {
  chancePresent,
  type classHours,
  exposureOfSilhouette,
  hourClasses,
  hourClassesOf,
  meanPeople,
  type OccupancyProfile,
  peopleByHour,
} from '@underbough/exposure'
import { describe, expect, it } from 'vitest'
import { even } from './exposure-directions.ts'
import { ringOf, strip } from './exposure-rows.ts'

const week = (value: number) => new Array<number>(168).fill(value)
const MILE_M = 1609.344

describe('mean number present', () => {
  // Average vehicle risk of the rockfall hazard rating, FHWA-SA-93-057: (vehicles a day / 24) × length / speed. The document
  // was seen, the formula is from memory; rows are worked from it. It may exceed one vehicle: it is no chance.
  it.each([
    [2000, 0.1, 45, 18.5185],
    [10000, 0.02, 30, 27.7778],
    [500, 0.05, 25, 4.1667],
  ])('%d vehicles a day on %d miles at %d mph', (aDay, miles, mph, percent) => {
    const profile: OccupancyProfile = {
      kind: 'vehicles',
      flowPerHour: week(aDay / 24),
      speedKmh: (mph * MILE_M) / 1000,
      lengthM: miles * MILE_M,
      peoplePerVehicle: 1,
    }
    expect(peopleByHour(profile)[100]! * 100).toBeCloseTo(percent, 4)
    expect(peopleByHour({ ...profile, peoplePerVehicle: 1.5 })[0]! * 100).toBeCloseTo(1.5 * percent, 3)
  })

  // Walking speeds: MUTCD 2009, 3.5 ft/s (the 1.2 m/s and 1.4 m/s rows from memory): seconds to cross 10 m.
  it.each([
    [1.0668, 9.3738],
    [1.2, 8.3333],
    [1.4, 7.1429],
  ])('one walker an hour at %d m/s is there for the seconds of the crossing', (speedMps, seconds) => {
    const profile: OccupancyProfile = { kind: 'through', flowPerHour: week(1), speedMps, lengthM: 10 }
    expect(meanPeople(hourClassesOf(profile)) * 3600).toBeCloseTo(seconds, 4)
  })

  it('footway of 120 an hour at 1.4 m/s: per metre, and twice as long holds twice as many (reference row)', () => {
    const on = (lengthM: number) =>
      meanPeople(hourClassesOf({ kind: 'through', flowPerHour: week(120), speedMps: 1.4, lengthM }))
    expect(on(1)).toBeCloseTo(0.02380952380952381, 12)
    expect(on(10)).toBeCloseTo(0.2380952380952381, 12)
    expect(on(20)).toBeCloseTo(2 * on(10), 12)
  })

  // Little's law (Little 1961): mean number = arrivals × time; simulated figures and errors from the reference rows.
  it.each([
    [30, 20, 10, 10.02025, 0.03],
    [6, 10, 1, 0.999, 0.004],
  ])('%d an hour for %d minutes', (arrivals, minutesEach, mean, simulated, error) => {
    const got = meanPeople(hourClassesOf({ kind: 'standing', arrivalsPerHour: week(arrivals), minutesEach }))
    expect(got).toBeCloseTo(mean, 12)
    expect(Math.abs(got - simulated)).toBeLessThan(4 * error)
  })
})

describe('chance that somebody is present', () => {
  // 1 − e^−λτ for independent arrivals (M/G/∞ queue; standard result).
  it.each([
    [20, 7.142857, 0.039683, 0.038905],
    [60, 10, 0.166667, 0.153518],
    [300, 2, 0.166667, 0.153518],
    [600, 7.142857, 1.190476, 0.695924],
    [1200, 1.5, 0.5, 0.393469],
  ])('%d an hour for %d s', (perHour, seconds, mean, chance) => {
    const hours = hourClassesOf({
      kind: 'standing',
      arrivalsPerHour: week(perHour),
      minutesEach: seconds / 60,
    })
    expect(meanPeople(hours)).toBeCloseTo(mean, 6)
    expect(chancePresent(hours)).toBeCloseTo(chance, 6)
  })

  // Reference rows: averaged over the hours; the weekly mean would say `wrong`.
  it.each([
    ['20 h with 10', [[20, 10]], 1.1904761904761905, 0.11904221429407588, 0.6959235687151666],
    [
      '60 h with 0.5, 10 h with 30',
      [
        [60, 0.5],
        [10, 30],
      ],
      1.9642857142857142,
      0.20004857391214917,
      0.8597439662740348,
    ],
  ] as [string, [number, number][], number, number, number][])('%s', (_, parts, mean, right, wrong) => {
    const people = parts.flatMap(([hours, count]) => new Array<number>(hours).fill(count))
    const hours = hourClasses([...people, ...new Array<number>(168 - people.length).fill(0)])
    expect(hours.length).toBe(parts.length + 1)
    expect(meanPeople(hours)).toBeCloseTo(mean, 9)
    expect(chancePresent(hours)).toBeCloseTo(right, 9)
    expect(-Math.expm1(-meanPeople(hours))).toBeCloseTo(wrong, 9)
  })

  it('under the tree as beside it: a zone that is all within every outline keeps the chance of its hours', () => {
    const speck = ringOf('-0.001 -0.001, 0.001 -0.001, 0.001 0.001, -0.001 0.001')
    const hours = hourClasses([...week(10).slice(0, 20), ...week(0).slice(0, 148)])
    const zone = {
      id: 'z',
      polygons: [[speck.map(([x, y]) => [x + 1, y])]],
      areaM2: 4e-6,
      hours,
      staticTarget: false,
    }
    // A strip twice as wide as long falls over it at half of all bearings.
    const got = exposureOfSilhouette(strip(50, 100), even, [zone]).zones[0]!
    expect(got.pAny).toBeCloseTo(0.11904221429407588 / 2, 4)
  })

  it('groups of three come together: 0.632 and not 0.950, the mean as before (reference row)', () => {
    const hours = hourClasses(week(3))
    expect(chancePresent(hours)).toBeCloseTo(0.950212931632136, 12)
    expect(chancePresent(hours, 3)).toBeCloseTo(0.6321205588285577, 12)
    const zone = {
      id: 'z',
      polygons: [[ringOf('5 -3, 9 -3, 9 3, 5 3')]],
      areaM2: 24,
      hours,
      staticTarget: false,
    }
    const [alone] = exposureOfSilhouette(strip(18, 2), even, [zone]).zones
    const [grouped] = exposureOfSilhouette(strip(18, 2), even, [{ ...zone, groupSize: 3 }]).zones
    expect(grouped!.people.mean).toBeCloseTo(alone!.people.mean, 9)
    expect(grouped!.pAny).toBeLessThan(alone!.pAny)
  })
})

describe('hours of the week', () => {
  it('a class has people during its own hours only, ordered as the words are', () => {
    const share = (word: keyof typeof classHours) =>
      peopleByHour({ kind: 'class', word, peopleWhenPresent: 2 }).filter((n) => n === 2).length / 168
    expect(share('constant')).toBe(1)
    // Limits between the words: 0.026, 0.155 and 0.47 of all hours (assumption of ours, shown with the rating).
    expect(share('frequent')).toBeGreaterThan(0.155)
    expect(share('frequent')).toBeLessThan(0.47)
    expect(share('occasional')).toBeGreaterThan(0.026)
    expect(share('occasional')).toBeLessThan(0.155)
    expect(share('rare')).toBeGreaterThan(0)
    expect(share('rare')).toBeLessThan(0.026)
    // Hour 0 is Monday at midnight: Saturday at 14:00 is hour 134.
    const rare = peopleByHour({ kind: 'class', word: 'rare', peopleWhenPresent: 1 })
    expect(rare.flatMap((n, hour) => (n ? [hour] : []))).toEqual([134, 135])
  })
  it('joins equal hours and keeps their weights', () => {
    const people = Array.from({ length: 168 }, (_, hour) => (hour % 24) % 3)
    const plain = hourClasses(people)
    expect(plain.map((h) => [h.people, h.hours.length])).toEqual([
      [0, 56],
      [1, 56],
      [2, 56],
    ])
    expect(plain.reduce((sum, h) => sum + h.weight, 0)).toBeCloseTo(1, 12)
    const stormy = hourClasses(
      people,
      people.map((n) => (n === 2 ? 3 : 1)),
    )
    expect(stormy[2]!.weight).toBeCloseTo(0.6, 12)
    expect(meanPeople(stormy)).toBeCloseTo(1.4, 12)
  })
  it('refuses a week of another length', () => {
    expect(() => peopleByHour({ kind: 'building', peopleInside: [1, 2] })).toThrow(RangeError)
  })
  it('joint hours meet: two zones busy at different hours are never busy together', () => {
    const by = (odd: boolean) =>
      hourClasses(Array.from({ length: 168 }, (_, h) => ((h % 2 === 1) === odd ? 5 : 0)))
    const zone = (id: string, ring: string, odd: boolean) => ({
      id,
      polygons: [[ringOf(ring)]],
      areaM2: 24,
      hours: by(odd),
      staticTarget: false,
    })
    const near = 'd'
    const one = zone(near, '5 -3, 9 -3, 9 3, 5 3', true)
    const other = (odd: boolean) => zone('e', '9 -3, 13 -3, 13 3, 9 3', odd)
    const apart = exposureOfSilhouette(strip(18, 2), even, [one, other(false)])
    const together = exposureOfSilhouette(strip(18, 2), even, [one, other(true)])
    const sum = apart.zones[0]!.pAny + apart.zones[1]!.pAny
    expect(apart.joint.pAny).toBeCloseTo(sum, 9)
    expect(together.joint.pAny).toBeLessThan(sum - 0.01)
  })
})
