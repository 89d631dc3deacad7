import type { Fall } from './fall.ts'
import type { PeopledZone, SharedGround } from './ground.ts'
import { jointHours } from './hours.ts'
import type { Nodes } from './nodes.ts'

/** Figures of one target under each lobe: chance of touching, mean people by layer, chance of anybody. */
export interface Presence {
  touchByLobe: Float64Array
  stemByLobe: Float64Array
  crownByLobe: Float64Array
  scatterByLobe: Float64Array
  anyByLobe: Float64Array
}

export const noPresence = (lobes: number): Presence => ({
  touchByLobe: new Float64Array(lobes),
  stemByLobe: new Float64Array(lobes),
  crownByLobe: new Float64Array(lobes),
  scatterByLobe: new Float64Array(lobes),
  anyByLobe: new Float64Array(lobes),
})

/** Presence in one zone. `whole` is all the ground it shares, `zone` its own people's. */
export function presence(fall: Fall, whole: SharedGround, zone: PeopledZone, nodes: Nodes): Presence {
  const got = noPresence(nodes.chance.length)
  for (let l = 0; l < nodes.chance.length; l++) {
    const chance = nodes.chance[l]!
    got.touchByLobe[l] = Math.min(1, sumOver(chance, whole.at, whole.touch))
    if (!zone.ground || zone.people === 0) continue
    const perM2 = zone.people / zone.areaM2
    got.stemByLobe[l] = perM2 * sumOver(chance, zone.ground.at, zone.ground.stemM2)
    got.crownByLobe[l] = perM2 * sumOver(chance, zone.ground.at, zone.ground.crownM2)
    if (zone.ground.scatterM2 && fall.scatter)
      got.scatterByLobe[l] =
        fall.scatter.chance *
        fall.scatter.coverage *
        perM2 *
        sumOver(chance, zone.ground.at, zone.ground.scatterM2)
    got.anyByLobe[l] = sumOver(chance, zone.ground.at, zone.any)
  }
  return got
}

/** Σ chance × value over some of the nodes; values of 1 where there are none. */
export function sumOver(chance: Float64Array, at: Int32Array, values: Float64Array | null): number {
  let sum = 0
  if (values) for (let i = 0; i < at.length; i++) sum += chance[at[i]!]! * values[i]!
  else for (let i = 0; i < at.length; i++) sum += chance[at[i]!]!
  return sum
}

/** Presence in several zones at once, which share each bearing and each hour: `each` holds their single figures. */
export function jointPresence(
  fall: Fall,
  wholes: readonly (SharedGround | null)[],
  zones: readonly PeopledZone[],
  each: readonly Presence[],
  nodes: Nodes,
): Presence {
  const got = noPresence(nodes.chance.length)
  for (const one of each)
    for (let l = 0; l < nodes.chance.length; l++) {
      got.stemByLobe[l]! += one.stemByLobe[l]!
      got.crownByLobe[l]! += one.crownByLobe[l]!
      got.scatterByLobe[l]! += one.scatterByLobe[l]!
    }
  const touch = jointTouch(wholes, nodes.size)
  const any = jointAny(fall, zones, nodes.size)
  for (let l = 0; l < nodes.chance.length; l++) {
    const chance = nodes.chance[l]!
    let touched = 0
    let present = 0
    for (let i = 0; i < nodes.size; i++) {
      touched += chance[i]! * touch[i]!
      present += chance[i]! * Math.min(any[i]!, touch[i]!)
    }
    got.touchByLobe[l] = Math.min(1, touched)
    got.anyByLobe[l] = present
  }
  return got
}

function jointTouch(grounds: readonly (SharedGround | null)[], size: number): Float64Array {
  const touch = new Float64Array(size)
  for (const ground of grounds)
    if (ground)
      for (let i = 0; i < ground.at.length; i++) {
        const here = ground.touch ? ground.touch[i]! : 1
        if (here > touch[ground.at[i]!]!) touch[ground.at[i]!] = here
      }
  return touch
}

/** Chance of at least one person at each node; the hours are walked only where two zones are met at once. */
function jointAny(fall: Fall, all: readonly PeopledZone[], size: number): Float64Array {
  const any = new Float64Array(size)
  const met = new Uint16Array(size)
  const zones = all.filter((zone) => zone.ground && zone.people > 0)
  for (const zone of zones) {
    const { at } = zone.ground!
    for (let i = 0; i < at.length; i++)
      if (zone.any[i]! > 0) {
        met[at[i]!]!++
        any[at[i]!] = Math.max(any[at[i]!]!, zone.any[i]!)
      }
  }
  if (zones.length < 2 || !met.some((count) => count > 1)) return any
  const hours = jointHours(zones.map((zone) => zone.hours))
  const q = fall.scatter?.chance ?? 0
  const bodies = q < 1 ? nobodyAt(zones, hours, met, 0) : null
  const withRing = q > 0 ? nobodyAt(zones, hours, met, fall.scatter!.coverage) : null
  for (let i = 0; i < size; i++) {
    if (met[i]! < 2) continue
    const nobody = (bodies ? (1 - q) * bodies[i]! : 0) + (withRing ? q * withRing[i]! : 0)
    any[i] = Math.max(any[i]!, 1 - nobody)
  }
  return any
}

/** Chance that nobody is within any of the zones, at the nodes that at least two of them meet. */
function nobodyAt(
  zones: readonly PeopledZone[],
  { weight, classes }: ReturnType<typeof jointHours>,
  met: Uint16Array,
  coverage: number,
): Float64Array {
  const nobody = new Float64Array(met.length)
  const next = new Int32Array(zones.length)
  const absent = zones.map((zone) => new Float64Array(zone.hours.length))
  const here = new Int32Array(zones.length)
  for (let node = 0; node < met.length; node++) {
    let count = 0
    for (let z = 0; z < zones.length; z++) {
      const { ground, areaM2, groupSize, hours } = zones[z]!
      const { at, stemM2, crownM2, scatterM2 } = ground!
      while (next[z]! < at.length && at[next[z]!]! < node) next[z]!++
      const i = next[z]!
      if (met[node]! < 2 || at[i] !== node) continue
      const ring = coverage > 0 && scatterM2 ? coverage * scatterM2[i]! : 0
      const share = (stemM2[i]! + crownM2[i]! + ring) / (areaM2 * groupSize)
      if (share <= 0) continue
      const chances = absent[z]!
      for (let k = 0; k < hours.length; k++) chances[k] = Math.exp(-hours[k]!.people * share)
      here[count++] = z
    }
    if (count === 0) continue
    let sum = 0
    for (let h = 0; h < weight.length; h++) {
      let product = weight[h]!
      for (let j = 0; j < count; j++) product *= absent[here[j]!]![classes[here[j]!]![h]!]!
      sum += product
    }
    nobody[node] = sum
  }
  return nobody
}
