import type { OccupancyWord } from '@underbough/model'

/** Hours of a week, counted from Monday 00:00, site time. */
export const HOURS_PER_WEEK = 168

export const MONTHS = 12
/** Share of the year of each month, January first. */
export const monthShares: readonly number[] = [31, 28.2425, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].map(
  (days) => days / 365.2425,
)

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
  | {
      kind: 'vehicles'
      flowPerHour: number[]
      speedKmh: number
      lengthM: number
      peoplePerVehicle: number
      lanes?: number
      sightDistanceM?: number | null
    }

/** Hours at which a zone holds the same mean number of people. */
export interface HourClass {
  people: number
  /** Share of the week's weight; the classes of a zone sum to 1. */
  weight: number
  /** The hours of the week, 0 to 167; where months differ, 168 × month (0 January) + the hour of its week. */
  hours: number[]
  /** Share of the whole weight of each of these hours; left out where they are alike. */
  shares?: number[]
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

/**
 * Joins hours with the same number of people: 168 of them, or 168 for each month from January. `hourWeights` (as many, any
 * scale, default equal) say how likely failure is at each hour. Throws RangeError where the two do not match.
 */
export function hourClasses(
  people: readonly number[],
  hourWeights: readonly number[] = equalHourWeights,
): HourClass[] {
  if (people.length !== hourWeights.length)
    throw new RangeError(`${people.length} hours of people and ${hourWeights.length} of weights`)
  const total = hourWeights.reduce((sum, w) => sum + w, 0)
  const alike = hourWeights.every((w) => w === hourWeights[0])
  const byPeople = new Map<number, HourClass>()
  people.forEach((count, hour) => {
    let known = byPeople.get(count)
    if (!known) {
      known = { people: count, weight: 0, hours: [], ...(alike ? {} : { shares: [] }) }
      byPeople.set(count, known)
    }
    known.weight += hourWeights[hour]!
    known.hours.push(hour)
    known.shares?.push(hourWeights[hour]! / total)
  })
  return [...byPeople.values()]
    .map((h) => ({ ...h, weight: h.weight / total }))
    .sort((a, b) => a.people - b.people)
}

const isSeasonal = (hours: readonly HourClass[]) =>
  hours.some((h) => h.hours.some((hour) => hour >= HOURS_PER_WEEK))

/** How many hours tell several zones' hours apart: those of a week, or of a week for each month where any zone has seasons. */
export const slotsOf = (zones: readonly (readonly HourClass[])[]): number =>
  zones.some(isSeasonal) ? HOURS_PER_WEEK * MONTHS : HOURS_PER_WEEK

/** Calls for every slot with the class it is in and its share of the weight; a week holds in every month. */
function eachSlot(
  hours: readonly HourClass[],
  slots: number,
  visit: (slot: number, place: number, share: number) => void,
): void {
  const repeat = slots > HOURS_PER_WEEK && !isSeasonal(hours)
  hours.forEach((h, place) => {
    h.hours.forEach((hour, i) => {
      const share = h.shares ? h.shares[i]! : h.weight / h.hours.length
      if (!repeat) visit(hour, place, share)
      else
        for (let month = 0; month < MONTHS; month++)
          visit(month * HOURS_PER_WEEK + hour, place, share * monthShares[month]!)
    })
  })
}

/** Classes laid out again by slot: people. */
export function peopleBySlot(hours: readonly HourClass[], slots: number): number[] {
  const people = new Array<number>(slots).fill(0)
  eachSlot(hours, slots, (slot, place) => {
    people[slot] = hours[place]!.people
  })
  return people
}

/** Classes laid out again by slot: each one's share of the weight. */
export function weightsBySlot(hours: readonly HourClass[], slots: number): number[] {
  const weights = new Array<number>(slots).fill(0)
  eachSlot(hours, slots, (slot, _, share) => {
    weights[slot] = share
  })
  return weights
}

/** Classes laid out again by slot: which one it is in. */
export function classesBySlot(hours: readonly HourClass[], slots: number): Uint16Array {
  const classes = new Uint16Array(slots)
  eachSlot(hours, slots, (slot, place) => {
    classes[slot] = place
  })
  return classes
}

/** The classes of a profile in one step. */
export const hourClassesOf = (profile: OccupancyProfile, hourWeights?: readonly number[]): HourClass[] =>
  hourClasses(peopleByHour(profile), hourWeights)

/** Months of the year, 1 January, in which another week holds than in the rest of it. */
export interface Season {
  months: readonly number[]
  occupancy: OccupancyProfile
}

/**
 * The classes of a year: each month has the week of the season that names it, the first if several do, or `occupancy`; months
 * weigh by their days. `hourWeights` of a week hold in every month. Without seasons they are those of the one week.
 */
export function hourClassesOfYear(
  occupancy: OccupancyProfile,
  seasons: readonly Season[] = [],
  hourWeights: readonly number[] = equalHourWeights,
): HourClass[] {
  if (seasons.length === 0) return hourClassesOf(occupancy, hourWeights)
  const weeks = monthShares.map((_, month) =>
    peopleByHour(seasons.find(({ months }) => months.includes(month + 1))?.occupancy ?? occupancy),
  )
  return hourClasses(
    weeks.flat(),
    monthShares.flatMap((share) => hourWeights.map((weight) => share * weight)),
  )
}

/** Mean number of people over the week. */
export const meanPeople = (hours: readonly HourClass[]): number =>
  hours.reduce((sum, h) => sum + h.weight * h.people, 0)

/**
 * Chance that somebody is in the zone at all: averaged over the hours, never taken at the weekly mean. People come
 * independently, or in groups of `groupSize`; the plain figure is an upper one.
 */
export const chancePresent = (hours: readonly HourClass[], groupSize = 1): number =>
  hours.reduce((sum, h) => sum + h.weight * -Math.expm1(-h.people / groupSize), 0)
