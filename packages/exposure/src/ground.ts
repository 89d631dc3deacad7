import { type ExposureFlag, flag } from './flags.ts'
import { type Overlap, overlapAt } from './kernel/area.ts'
import type { Arc } from './kernel/contact.ts'
import type { Nesting } from './nesting.ts'
import { type HourClass, hourClasses, meanPeople, weekOf, weightsOf } from './occupancy.ts'
import { chanceOfAny } from './series.ts'
import type { Silhouette } from './silhouette.ts'
import { TABLE_SIZE, TABLE_STEP, tableCos, tableSin } from './table.ts'
import type { ZoneAround, ZoneRings } from './zone.ts'

/** Shared area of silhouette and zone at each bearing of the table, square metres; zero outside the cells listed. */
export interface AreaTable {
  stemM2: Float64Array
  crownM2: Float64Array
  /** The cells in which the two may overlap. */
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
  return cells
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
  const people = weekOf(zone.hours)
  for (const part of parts)
    weekOf(part.hours).forEach((count, hour) => {
      people[hour]! -= count
    })
  const short = people.some((count) => count < -1e-9)
  return {
    hours: hourClasses(
      people.map((count) => Math.max(0, count)),
      weightsOf(zone.hours),
    ),
    short,
  }
}
