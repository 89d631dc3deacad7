import type { Target } from './kernel/target.ts'
import { classesBySlot, type HourClass, slotsOf, weightsBySlot } from './occupancy.ts'

/** Hours at which every one of several zones holds as many people as before, joined. */
export interface JointHours {
  weight: Float64Array
  /** For each joint hour the people of each zone, over the size of their groups. */
  people: Float64Array
}

interface Branch {
  joined: JointHours | null
  next: WeakMap<readonly HourClass[], Branch>
}

/** The trees of a city meet the same few sets of hours again and again. */
const known: Branch = { joined: null, next: new WeakMap() }

/** The joint hours of the targets at `places`. Hour weights are those of the first. */
export function jointHours(targets: readonly Target[], places: Int32Array, count: number): JointHours {
  let branch = known
  let alone = true
  for (let i = 0; i < count; i++) {
    const { hours, groupSize } = targets[places[i]!]!
    if (groupSize !== 1) alone = false
    let next = branch.next.get(hours)
    if (!next) {
      next = { joined: null, next: new WeakMap() }
      branch.next.set(hours, next)
    }
    branch = next
  }
  if (alone && branch.joined) return branch.joined
  const joined = join(Array.from({ length: count }, (_, i) => targets[places[i]!]!))
  if (alone) branch.joined = joined
  return joined
}

function join(zones: readonly Target[]): JointHours {
  const slots = slotsOf(zones.map(({ hours }) => hours))
  const weights = weightsBySlot(zones[0]!.hours, slots)
  // Classes of the zones so far, joined, by slot; zone by zone they are told apart further.
  const joint = new Int32Array(slots)
  let count = 1
  const bySlot = zones.map(({ hours }) => classesBySlot(hours, slots))
  for (let z = 0; z < zones.length; z++) {
    const classes = zones[z]!.hours.length
    const of = bySlot[z]!
    const renamed = new Int32Array(count * classes).fill(-1)
    count = 0
    for (let slot = 0; slot < slots; slot++) {
      const pair = joint[slot]! * classes + of[slot]!
      if (renamed[pair]! < 0) renamed[pair] = count++
      joint[slot] = renamed[pair]!
    }
  }
  const weight = new Float64Array(count)
  const people = new Float64Array(count * zones.length)
  let told = 0
  for (let slot = 0; slot < slots; slot++) {
    const j = joint[slot]!
    weight[j]! += weights[slot]!
    // Joint classes are numbered in the order of their first slots.
    if (j < told) continue
    told = j + 1
    for (let z = 0; z < zones.length; z++) {
      const { hours, groupSize } = zones[z]!
      people[j * zones.length + z] = hours[bySlot[z]![slot]!]!.people / groupSize
    }
  }
  return { weight, people }
}

/**
 * Chance that nobody is within any of several zones, which share each hour. Their shares of ground within stand in `shares`,
 * `stride` apart, from `place` on.
 */
export function jointNobody(
  { weight, people }: JointHours,
  shares: Float64Array,
  count: number,
  stride: number,
  place: number,
): number {
  let nobody = 0
  for (let j = 0, at = 0; j < weight.length; j++) {
    let within = 0
    for (let i = 0; i < count; i++) within += people[at++]! * shares[i * stride + place]!
    nobody += within === 0 ? weight[j]! : weight[j]! * Math.exp(-within)
  }
  return nobody
}
