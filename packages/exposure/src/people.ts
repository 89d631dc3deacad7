import { type ExposureFlag, flag } from './flags.ts'
import { type Overlap, overlapAt } from './kernel/area.ts'
import type { Arc } from './kernel/contact.ts'
import type { Nesting } from './nesting.ts'
import { HOURS_PER_WEEK, type HourClass, hourClasses } from './occupancy.ts'
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
  /** Ground over which the people are spread, square metres. */
  areaM2: number
  groupSize: number
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
    return {
      areas: without(
        areas[i]!,
        inside.map((k) => areas[k]!),
      ),
      hours: left.hours,
      areaM2: Math.max(0, sizes[i]! - inside.reduce((sum, k) => sum + sizes[k]!, 0)),
      groupSize: zone.groupSize ?? 1,
    }
  })
  return { zones: peopled, flags }
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

export function presence(zone: PeopledZone, tables: readonly LobeTable[]): Presence {
  return jointPresence([zone], tables)
}

/** The same for several zones at once, which share each bearing and each hour. */
export function jointPresence(zones: readonly PeopledZone[], tables: readonly LobeTable[]): Presence {
  const stemByLobe = tables.map(() => 0)
  const crownByLobe = tables.map(() => 0)
  const present = zones.filter(
    (zone) => zone.areas && zone.areaM2 > 0 && zone.hours.some((h) => h.people > 0),
  )
  for (const zone of present) {
    const density = zone.hours.reduce((sum, h) => sum + h.weight * h.people, 0) / zone.areaM2
    tables.forEach((table, l) => {
      let stem = 0
      let crown = 0
      for (const i of zone.areas!.cells) {
        stem += table.chance[i]! * zone.areas!.stemM2[i]!
        crown += table.chance[i]! * zone.areas!.crownM2[i]!
      }
      stemByLobe[l]! += stem * density
      crownByLobe[l]! += crown * density
    })
  }
  return { stemByLobe, crownByLobe, pAny: chanceOfAny(present, tables) }
}

/** 1 − Σ over hours and bearings of exp(−people within the outline). */
function chanceOfAny(zones: readonly PeopledZone[], tables: readonly LobeTable[]): number {
  const hours = jointHours(zones)
  const cells = [...new Set(zones.flatMap((zone) => zone.areas!.cells))]
  const shares = new Float64Array(zones.length)
  let sum = 0
  for (const i of cells) {
    let chance = 0
    for (const table of tables) chance += table.lobe.weight * table.chance[i]!
    zones.forEach((zone, z) => {
      shares[z] = (zone.areas!.stemM2[i]! + zone.areas!.crownM2[i]!) / (zone.areaM2 * zone.groupSize)
    })
    let any = 0
    for (const { weight, people } of hours) {
      let within = 0
      for (let z = 0; z < shares.length; z++) within += shares[z]! * people[z]!
      if (within > 0) any -= weight * Math.expm1(-within)
    }
    sum += chance * any
  }
  return sum
}

/** Hours at which every one of the zones holds the same people as before, joined. Hour weights are those of the first zone. */
function jointHours(zones: readonly PeopledZone[]): { weight: number; people: number[] }[] {
  if (zones.length === 0) return []
  if (zones.length === 1) return zones[0]!.hours.map((h) => ({ weight: h.weight, people: [h.people] }))
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
