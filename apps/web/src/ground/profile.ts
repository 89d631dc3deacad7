import { peopleByHour } from '@underbough/exposure'
import type { OccupancyProfile, OccupancyWord, SeasonWeek, Zone, ZoneKind } from '@underbough/model'
import { monthName } from '../look/index.ts'

export type ProfileKind = OccupancyProfile['kind']
export const profileNames: Record<ProfileKind, string> = {
  class: 'only the trade’s word is known',
  standing: 'people come and stay a while',
  through: 'people walk or ride through',
  building: 'people are inside a building',
  vehicles: 'vehicles pass',
}
export const profileKinds = Object.keys(profileNames) as ProfileKind[]
/** What a zone of a kind mostly holds. */
export const usualProfile: Record<ZoneKind, ProfileKind> = {
  building: 'building',
  road: 'vehicles',
  footpath: 'through',
  play: 'standing',
  seating: 'standing',
  parking: 'standing',
  utility: 'class',
}
const nobody = () => new Array<number>(168).fill(0)

/** A fresh profile of a kind, with nobody in it; figures are the person's to give. */
export function profileOf(kind: ProfileKind, word: OccupancyWord): OccupancyProfile {
  if (kind === 'class') return { kind, word, peopleWhenPresent: 1 }
  if (kind === 'standing') return { kind, arrivalsPerHour: nobody(), minutesEach: 30 }
  if (kind === 'through') return { kind, flowPerHour: nobody(), speedMps: 1.4, lengthM: 20 }
  if (kind === 'building') return { kind, peopleInside: nobody() }
  return { kind, flowPerHour: nobody(), speedKmh: 40, lengthM: 20, peoplePerVehicle: 1.5 }
}

/** `Jun to Aug`, `Dec to Feb`, `Apr and Oct`: months of the year in words, 1 January. */
export function sayMonths(months: readonly number[]): string {
  const held = new Set(months)
  if (held.size >= 12) return 'all year'
  const before = (month: number) => ((month + 10) % 12) + 1
  const after = (month: number) => (month % 12) + 1
  const runs = [...held]
    .filter((month) => !held.has(before(month)))
    .sort((a, b) => a - b)
    .map((first) => {
      let last = first
      while (held.has(after(last))) last = after(last)
      const [from, to] = [monthName(first - 1), monthName(last - 1)]
      return first === last ? from : after(first) === last ? `${from} and ${to}` : `${from} to ${to}`
    })
  return runs.join(', ')
}

/** Months that no season names, 1 January. */
export const restOf = (seasons: readonly Pick<SeasonWeek, 'months'>[]): number[] => {
  const named = new Set(seasons.flatMap(({ months }) => months))
  return Array.from({ length: 12 }, (_, i) => i + 1).filter((month) => !named.has(month))
}

/** A week of the year: its name, its months and people by hour of the week. */
export interface WeekShown {
  name: string
  months: number[]
  people: number[]
}

/** The weeks of a zone, the one of most months first named after the rest where there are seasons. */
export function weeksOf({ occupancy, seasons }: Pick<Zone, 'occupancy' | 'seasons'>): WeekShown[] {
  const rest = restOf(seasons)
  const own =
    rest.length > 0 ? [{ name: seasons.length > 0 ? 'Otherwise' : '', months: rest, occupancy }] : []
  return [...own, ...seasons].map((week) => ({
    name: week.name,
    months: week.months,
    people: peopleByHour(week.occupancy),
  }))
}
