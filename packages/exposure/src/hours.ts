import { HOURS_PER_WEEK, type HourClass } from './occupancy.ts'

/** Which class each hour of the week belongs to, kept with the classes: the trees of a city share them. */
const classOfHour = new WeakMap<readonly HourClass[], Uint8Array>()

function classesByHour(hours: readonly HourClass[]): Uint8Array {
  const known = classOfHour.get(hours)
  if (known) return known
  const classes = new Uint8Array(HOURS_PER_WEEK)
  hours.forEach((h, place) => {
    for (const hour of h.hours) classes[hour] = place
  })
  classOfHour.set(hours, classes)
  return classes
}

/**
 * Hours at which every one of the zones is in the same class as before, joined: their weights, and for each zone the class
 * it is in. Hour weights are those of the first zone.
 */
export function jointHours(zones: readonly (readonly HourClass[])[]): {
  weight: Float64Array
  classes: Uint8Array[]
} {
  const byHour = zones.map(classesByHour)
  const first = zones[0]!
  const places = new Map<number, number>()
  const weight = new Float64Array(HOURS_PER_WEEK)
  const classes = zones.map(() => new Uint8Array(HOURS_PER_WEEK))
  for (let hour = 0; hour < HOURS_PER_WEEK; hour++) {
    // A number that tells combinations apart; past 2^53 some may go by the same hour twice, which only costs time.
    let key = 0
    for (let z = 0; z < zones.length; z++) key = key * zones[z]!.length + byHour[z]![hour]!
    if (key > Number.MAX_SAFE_INTEGER) key = -1 - hour
    let place = places.get(key)
    if (place === undefined) {
      place = places.size
      places.set(key, place)
      for (let z = 0; z < zones.length; z++) classes[z]![place] = byHour[z]![hour]!
    }
    const own = first[byHour[0]![hour]!]!
    weight[place]! += own.weight / own.hours.length
  }
  return { weight: weight.slice(0, places.size), classes }
}
