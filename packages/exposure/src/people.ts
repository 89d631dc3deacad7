import type { PeopledZone } from './ground.ts'
import { weekOf, weightsOf } from './occupancy.ts'
import { type LobeTable, TABLE_SIZE } from './table.ts'

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
  const weights = weightsOf(zones[0]!.hours)
  const weeks = zones.map((zone) => weekOf(zone.hours))
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
