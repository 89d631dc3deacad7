import { type ExposureFlag, flag } from './flags.ts'
import { type Overlap, overlapAt } from './kernel/area.ts'
import type { Arc } from './kernel/contact.ts'
import type { Nesting } from './nesting.ts'
import { HOURS_PER_WEEK, type HourClass, hourClasses, meanPeople } from './occupancy.ts'
import type { Silhouette } from './silhouette.ts'
import { type LobeTable, TABLE_SIZE, TABLE_STEP, tableCos, tableSin } from './table.ts'
import type { ZoneAround, ZoneRings } from './zone.ts'

/** Shared area of silhouette and zone at each bearing of the table, square metres; zero outside the cells listed. */
export interface AreaTable {
  stemM2: Float64Array
  crownM2: Float64Array
  /** The cells in which the two may overlap, ascending. */
  cells: number[]
}

/** Measures the overlap in every cell of the table that an arc of contact touches. */
export function areaTable(silhouette: Silhouette, zone: ZoneRings, arcs: readonly Arc[]): AreaTable {
  const stemM2 = new Float64Array(TABLE_SIZE)
  const crownM2 = new Float64Array(TABLE_SIZE)
  const cells = cellsOf(arcs)
  const out: Overlap = { stemM2: 0, crownM2: 0 }
  for (const i of cells) {
    overlapAt(silhouette, zone, tableCos[i]!, tableSin[i]!, out)
    // Rounding may leave a hair below zero.
    stemM2[i] = Math.max(0, out.stemM2)
    crownM2[i] = Math.max(0, out.crownM2)
  }
  return { stemM2, crownM2, cells }
}

/** Cells whose middle lies within an arc. */
function cellsOf(arcs: readonly Arc[]): number[] {
  const cells: number[] = []
  for (const [from, to] of arcs)
    for (let i = Math.ceil(from / TABLE_STEP - 0.5); (i + 0.5) * TABLE_STEP < to; i++)
      cells.push(i % TABLE_SIZE)
  return cells.sort((a, b) => a - b)
}

/** A zone with its people spread over the ground that is its own. */
export interface PeopledZone {
  areas: AreaTable | null
  hours: readonly HourClass[]
  /** Mean number over the week; 0 where no ground is left to spread them over. */
  people: number
  /** Ground over which the people are spread, square metres. */
  areaM2: number
  groupSize: number
  /** Chance of at least one person within the outline at each bearing of the table. */
  any: Float64Array
}

/** Takes inner zones out of outer ones: their ground, and by `partOf` their people (see `nestingOf`). */
export function peopledZones(
  zones: readonly ZoneAround[],
  rings: readonly ZoneRings[],
  areas: readonly (AreaTable | null)[],
  nesting: Nesting,
): { zones: PeopledZone[]; flags: ExposureFlag[] } {
  const flags: ExposureFlag[] = []
  const sizes = zones.map((zone, i) => (zone.areaM2 > 0 ? zone.areaM2 : rings[i]!.areaM2))
  const peopled = zones.map((zone, i): PeopledZone => {
    const inside = nesting.inside[i]!
    const parts = nesting.parts[i]!.map((k) => zones[k]!)
    const left = parts.length ? peopleLeft(zone, parts) : { hours: zone.hours, short: false }
    if (left.short) flags.push(flag('part-holds-more', zone.id))
    const areaM2 = sizes[i]! - inside.reduce((sum, k) => sum + sizes[k]!, 0)
    const own = without(
      areas[i]!,
      inside.map((k) => areas[k]!),
    )
    return spread(own, left.hours, areaM2, zone.groupSize ?? 1)
  })
  return { zones: peopled, flags }
}

function spread(
  areas: AreaTable | null,
  hours: readonly HourClass[],
  areaM2: number,
  groupSize: number,
): PeopledZone {
  const people = areaM2 > 0 ? meanPeople(hours) : 0
  const any = new Float64Array(areas && people > 0 ? TABLE_SIZE : 0)
  if (areas && people > 0) {
    const chance = chanceOfAny(hours, groupSize)
    for (const i of areas.cells) any[i] = chance((areas.stemM2[i]! + areas.crownM2[i]!) / areaM2)
  }
  return { areas, hours, people, areaM2, groupSize, any }
}

function without(area: AreaTable | null, inner: readonly (AreaTable | null)[]): AreaTable | null {
  const cut = inner.filter((table) => table !== null)
  if (!area || cut.length === 0) return area
  const stemM2 = area.stemM2.slice()
  const crownM2 = area.crownM2.slice()
  for (const table of cut)
    for (const i of table.cells) {
      stemM2[i] = Math.max(0, stemM2[i]! - table.stemM2[i]!)
      crownM2[i] = Math.max(0, crownM2[i]! - table.crownM2[i]!)
    }
  return { stemM2, crownM2, cells: area.cells }
}

function peopleLeft(zone: ZoneAround, parts: readonly ZoneAround[]): { hours: HourClass[]; short: boolean } {
  const people = week(zone.hours)
  for (const part of parts)
    week(part.hours).forEach((count, hour) => {
      people[hour]! -= count
    })
  const short = people.some((count) => count < -1e-9)
  return {
    hours: hourClasses(
      people.map((count) => Math.max(0, count)),
      hourWeights(zone.hours),
    ),
    short,
  }
}

function week(hours: readonly HourClass[]): number[] {
  const people = new Array<number>(HOURS_PER_WEEK).fill(0)
  for (const h of hours) for (const hour of h.hours) people[hour] = h.people
  return people
}

function hourWeights(hours: readonly HourClass[]): number[] {
  const weights = new Array<number>(HOURS_PER_WEEK).fill(0)
  for (const h of hours) for (const hour of h.hours) weights[hour] = h.weight / h.hours.length
  return weights
}

/** Mean people under each lobe, and the chance of at least one under the mixture. */
export interface Presence {
  stemByLobe: number[]
  crownByLobe: number[]
  pAny: number
}

/** Presence in one zone. */
export function presence(zone: PeopledZone, tables: readonly LobeTable[]): Presence {
  const stemByLobe = tables.map(() => 0)
  const crownByLobe = tables.map(() => 0)
  if (!zone.areas || zone.people === 0) return { stemByLobe, crownByLobe, pAny: 0 }
  const { stemM2, crownM2, cells } = zone.areas
  let pAny = 0
  tables.forEach(({ chance, lobe }, l) => {
    let stem = 0
    let crown = 0
    let any = 0
    for (const i of cells) {
      stem += chance[i]! * stemM2[i]!
      crown += chance[i]! * crownM2[i]!
      any += chance[i]! * zone.any[i]!
    }
    stemByLobe[l] = (stem * zone.people) / zone.areaM2
    crownByLobe[l] = (crown * zone.people) / zone.areaM2
    pAny += lobe.weight * any
  })
  return { stemByLobe, crownByLobe, pAny }
}

/** Presence in several zones at once, which share each bearing and each hour: `each` holds their single figures. */
export function jointPresence(
  zones: readonly PeopledZone[],
  each: readonly Presence[],
  tables: readonly LobeTable[],
): Presence {
  const sum = (of: (p: Presence) => number[]) =>
    tables.map((_, l) => each.reduce((total, p) => total + of(p)[l]!, 0))
  const present = zones.filter((zone) => zone.areas && zone.people > 0)
  const any = present.length === 1 ? present[0]!.any : anyOfSeveral(present)
  let pAny = 0
  for (const { chance, lobe } of tables)
    for (let i = 0; i < TABLE_SIZE; i++) pAny += lobe.weight * chance[i]! * any[i]!
  return { stemByLobe: sum((p) => p.stemByLobe), crownByLobe: sum((p) => p.crownByLobe), pAny }
}

/** Chance of at least one person at each bearing; the hours are walked only where two zones are met at once. */
function anyOfSeveral(zones: readonly PeopledZone[]): Float64Array {
  const any = new Float64Array(TABLE_SIZE)
  const met = new Uint8Array(TABLE_SIZE)
  for (const zone of zones)
    for (const i of zone.areas!.cells)
      if (zone.any[i]! > 0) {
        met[i]!++
        any[i] = zone.any[i]!
      }
  const hours = met.some((count) => count > 1) ? jointHours(zones) : []
  const share = new Float64Array(zones.length)
  for (let i = 0; i < TABLE_SIZE; i++) {
    if (met[i]! < 2) continue
    zones.forEach(({ areas, areaM2, groupSize }, z) => {
      share[z] = (areas!.stemM2[i]! + areas!.crownM2[i]!) / (areaM2 * groupSize)
    })
    let nobody = 0
    for (const { weight, people } of hours) {
      let within = 0
      for (let z = 0; z < share.length; z++) within += share[z]! * people[z]!
      nobody += weight * Math.exp(-within)
    }
    any[i] = Math.max(any[i]!, 1 - nobody)
  }
  return any
}

/** Hours at which every one of the zones holds the same people as before, joined. Hour weights are those of the first zone. */
function jointHours(zones: readonly PeopledZone[]): { weight: number; people: number[] }[] {
  const weights = hourWeights(zones[0]!.hours)
  const weeks = zones.map((zone) => week(zone.hours))
  const joined = new Map<string, { weight: number; people: number[] }>()
  weights.forEach((weight, hour) => {
    const people = weeks.map((counts) => counts[hour]!)
    const key = people.join(' ')
    const known = joined.get(key)
    if (known) known.weight += weight
    else joined.set(key, { weight, people })
  })
  return [...joined.values()]
}

const TERMS = 12
// Up to here twelve terms of the series leave less than 2e-12.
const SERIES_UP_TO = 0.7

/**
 * Chance of at least one person, averaged over the hours, as a function of the share of the zone's ground within the
 * outline: 1 − Σ w e^(−n share). Few people within are the rule, and there the series needs no exponential an hour.
 */
export function chanceOfAny(hours: readonly HourClass[], groupSize: number): (share: number) => number {
  const most = hours.reduce((max, h) => Math.max(max, h.people), 0) / groupSize
  const terms = new Float64Array(TERMS)
  let factor = 1
  for (let k = 0; k < TERMS; k++) {
    factor /= k === 0 ? 1 : -(k + 1)
    for (const h of hours) terms[k]! += factor * h.weight * (h.people / groupSize / (most || 1)) ** (k + 1)
  }
  return (share) => {
    const within = share * most
    if (within > SERIES_UP_TO) {
      let any = 0
      for (const h of hours) any += h.weight * (1 - Math.exp((-h.people / groupSize) * share))
      return any
    }
    let sum = 0
    for (let k = TERMS - 1; k >= 0; k--) sum = sum * within + terms[k]!
    return sum * within
  }
}
