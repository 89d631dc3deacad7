import type { OccupancyWord } from '@underbough/model'

/** Hours of a week, counted from Monday 00:00, site time. */
export const HOURS_PER_WEEK = 168

/** Who is in a zone, hour by hour of the week, or only the trade's word for it. Arrays hold 168 values from Monday 00:00 site time. */
export type OccupancyProfile =
  /** Only the class is known: so many people during the hours that go with the word. */
  | { kind: 'class'; word: OccupancyWord; peopleWhenPresent: number }
  /** People who come and stay: arrivals an hour, minutes each spends in this zone. */
  | { kind: 'standing'; arrivalsPerHour: number[]; minutesEach: number }
  /** People who walk or ride through: people an hour, their speed, the length of their way inside the zone. */
  | { kind: 'through'; flowPerHour: number[]; speedMps: number; lengthM: number }
  /** People inside a building. */
  | { kind: 'building'; peopleInside: number[] }
  /** Vehicles an hour, both ways together, their speed, the length of road inside the zone. */
  | { kind: 'vehicles'; flowPerHour: number[]; speedKmh: number; lengthM: number; peoplePerVehicle: number }

/** Hours at which a zone holds the same mean number of people. */
export interface HourClass {
  people: number
  /** Share of the week's weight; the classes of a zone sum to 1. */
  weight: number
  /** The hours of the week, 0 to 167. */
  hours: number[]
}

/** Assumption: the hours of a day from and to (24-hour clock), and the days (0 Monday), during which a class has people. */
export const classHours: Record<OccupancyWord, { fromHour: number; toHour: number; days: number[] }> = {
  constant: { fromHour: 0, toHour: 24, days: [0, 1, 2, 3, 4, 5, 6] },
  frequent: { fromHour: 8, toHour: 18, days: [0, 1, 2, 3, 4, 5, 6] },
  occasional: { fromHour: 12, toHour: 14, days: [0, 1, 2, 3, 4, 5, 6] },
  rare: { fromHour: 14, toHour: 16, days: [5] },
}

/** Assumption: a tree is as likely to fail at one hour as at another. Gusts that fell trees also empty parks; an organisation that knows better gives its own weights. */
export const equalHourWeights: readonly number[] = new Array(HOURS_PER_WEEK).fill(1)

/**
 * Mean number of people in the zone in each hour of the week: arrivals × time spent (Little's law), flow / speed × length
 * for those who pass through. Throws RangeError where an array does not hold 168 hours.
 */
export function peopleByHour(profile: OccupancyProfile): number[] {
  switch (profile.kind) {
    case 'class':
      return classWeek(profile.word).map((present) => present * profile.peopleWhenPresent)
    case 'standing':
      return week(profile.arrivalsPerHour, profile.minutesEach / 60)
    case 'through':
      return week(profile.flowPerHour, profile.lengthM / (profile.speedMps * 3600))
    case 'building':
      return week(profile.peopleInside, 1)
    case 'vehicles':
      return week(
        profile.flowPerHour,
        (profile.peoplePerVehicle * profile.lengthM) / (profile.speedKmh * 1000),
      )
  }
}

function week(values: readonly number[], factor: number): number[] {
  if (values.length !== HOURS_PER_WEEK)
    throw new RangeError(`a week has ${HOURS_PER_WEEK} hours, not ${values.length}`)
  return values.map((value) => value * factor)
}

function classWeek(word: OccupancyWord): number[] {
  const { fromHour, toHour, days } = classHours[word]
  return Array.from({ length: HOURS_PER_WEEK }, (_, hour) => {
    const ofDay = hour % 24
    return days.includes(Math.floor(hour / 24)) && ofDay >= fromHour && ofDay < toHour ? 1 : 0
  })
}

/** Joins hours with the same number of people. `hourWeights` (any scale, default equal) say how likely failure is at each hour. */
export function hourClasses(
  people: readonly number[],
  hourWeights: readonly number[] = equalHourWeights,
): HourClass[] {
  const total = hourWeights.reduce((sum, w) => sum + w, 0)
  const byPeople = new Map<number, HourClass>()
  people.forEach((count, hour) => {
    const known = byPeople.get(count)
    const weight = hourWeights[hour]!
    if (known) {
      known.weight += weight
      known.hours.push(hour)
    } else byPeople.set(count, { people: count, weight, hours: [hour] })
  })
  return [...byPeople.values()]
    .map((h) => ({ ...h, weight: h.weight / total }))
    .sort((a, b) => a.people - b.people)
}

/** Classes laid out again by hour of the week: people. */
export function weekOf(hours: readonly HourClass[]): number[] {
  const people = new Array<number>(HOURS_PER_WEEK).fill(0)
  for (const h of hours) for (const hour of h.hours) people[hour] = h.people
  return people
}

/** Classes laid out again by hour of the week: each hour's share of the weight. */
export function weightsOf(hours: readonly HourClass[]): number[] {
  const weights = new Array<number>(HOURS_PER_WEEK).fill(0)
  for (const h of hours) for (const hour of h.hours) weights[hour] = h.weight / h.hours.length
  return weights
}

/** The classes of a profile in one step. */
export const hourClassesOf = (profile: OccupancyProfile, hourWeights?: readonly number[]): HourClass[] =>
  hourClasses(peopleByHour(profile), hourWeights)

/** Mean number of people over the week. */
export const meanPeople = (hours: readonly HourClass[]): number =>
  hours.reduce((sum, h) => sum + h.weight * h.people, 0)

/**
 * Chance that somebody is in the zone at all: averaged over the hours, never taken at the weekly mean. People come
 * independently, or in groups of `groupSize`; the plain figure is an upper one.
 */
export const chancePresent = (hours: readonly HourClass[], groupSize = 1): number =>
  hours.reduce((sum, h) => sum + h.weight * -Math.expm1(-h.people / groupSize), 0)
