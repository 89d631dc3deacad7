import { type Arc, flatArcs } from './arcs.ts'
import type { Lobe } from './density.ts'
import type { Fall } from './fall.ts'
import type { ExposureFlag } from './flags.ts'
import { meet } from './kernel/arcs-of.ts'
import { contactEvents } from './kernel/contact.ts'
import { Events } from './kernel/events.ts'
import type { ZoneRings } from './kernel/rings.ts'
import { cutRings } from './kernel/rings.ts'
import { type Shape, shapeOf } from './kernel/shape.ts'
import { Sweep } from './kernel/sweep.ts'
import { Target } from './kernel/target.ts'
import { type KnownPairs, nest } from './nesting.ts'
import type { ZoneAround } from './zone.ts'

/** Names of the figures of one target, in the order in which `Reckoner.row` holds them. */
export const FIGURES = [
  'touchMean',
  'touchLeast',
  'touchMost',
  'peopleMean',
  'peopleLeast',
  'peopleMost',
  'peopleStem',
  'peopleCrown',
  'peopleScatter',
  'anyMean',
  'anyLeast',
  'anyMost',
] as const

/** Works out one tree after the other, with room that is used again. */
export class Reckoner {
  readonly sweep = new Sweep()
  readonly targets: Target[] = []
  count = 0
  flags: ExposureFlag[] = []
  /** The figures asked for last, in the order of `FIGURES`. */
  readonly row = new Float64Array(FIGURES.length)
  private readonly around = new Events()
  private fall!: Fall

  begin(): void {
    this.count = 0
  }

  /** A further zone of this tree; its `rings` are for the caller to fill. */
  add(zone: ZoneAround): Target {
    let target = this.targets[this.count]
    if (!target) {
      target = new Target()
      this.targets.push(target)
    }
    this.count++
    target.zone = zone
    return target
  }

  run(fall: Fall, lobes: readonly Lobe[], known?: KnownPairs): void {
    this.fall = fall
    this.flags = []
    const { targets, count, sweep } = this
    const shape = shapeOf(fall.silhouette)
    for (let t = 0; t < count; t++) {
      const target = targets[t]!
      target.clear()
      const { zone, rings } = target
      target.groundM2 = zone.areaM2 > 0 ? zone.areaM2 : rings.areaM2
      target.near = cutRings(rings, fall.furthestM * 1.001, target.cut)
      meet(fall, shape, target.near, target)
      target.within = -1
    }
    this.shelter(shape)
    nest(fall, targets, count, this.flags, known)
    sweep.lobes.set(lobes)
    sweep.run(fall, shape, targets, count)
  }

  /** The buildings that can stop this part: those it meets, with a height and of a class that carries so thick a stem. */
  private shelter(shape: Shape): void {
    const { targets, count, fall } = this
    const carries = fall.policy.shelter.carriesCm
    for (let t = 0; t < count; t++) {
      const target = targets[t]!
      target.shelters.length = 0
      target.layered = fall.scatter !== null
    }
    if (fall.stemDiameterCm === null) return
    for (let s = 0; s < count; s++) {
      const { zone, near, arcs } = targets[s]!
      const building = zone.shelter
      if (!building || !(building.heightM > 0) || arcs.length === 0) continue
      if (fall.stemDiameterCm > carries[building.class]) continue
      for (let t = 0; t < count; t++) {
        const target = targets[t]!
        if (t === s || target.arcs.length === 0 || !overlapping(arcs, target.arcs)) continue
        target.shelters.push({ rings: near, heightM: building.heightM })
        target.layered = true
        contactEvents(shape, near, this.around)
        for (let k = 0; k < this.around.count; k++)
          target.events.add(this.around.angle[k]!, this.around.root[k] === 1 ? 1 : 0)
        inLine(target.near, near, target.events)
        target.events.sort()
      }
    }
  }

  /** Angles at which any zone is met, flat and ascending. */
  jointArcs(): number[] {
    const { targets, count } = this
    const all: Arc[] = []
    for (let t = 0; t < count; t++) {
      const { arcs } = targets[t]!
      for (let i = 0; i < arcs.length; i += 2) all.push([arcs[i]!, arcs[i + 1]!])
    }
    return flatArcs(all).flat()
  }

  /** Fills `row` with the figures of one zone, or of all together (−1). */
  figures(t: number): void {
    const { sweep, row, fall, targets, count } = this
    const L = sweep.lobes.count
    const { weights } = sweep.lobes
    row.fill(0)
    const q = fall.scatter ? fall.scatter.chance * fall.scatter.coverage : 0
    let [touchMean, touchLeast, touchMost] = [0, Infinity, -Infinity]
    let [mean, least, most] = [0, Infinity, -Infinity]
    let [anyMean, anyLeast, anyMost] = [0, Infinity, -Infinity]
    const [first, last] = t < 0 ? [0, count] : [t, t + 1]
    for (let l = 0; l < L; l++) {
      const weight = weights[l]!
      const touch = Math.min(1, t < 0 ? sweep.jointTouch[l]! : targets[t]!.touch[l]!)
      touchMean += weight * touch
      if (touch < touchLeast) touchLeast = touch
      if (touch > touchMost) touchMost = touch
      let people = 0
      for (let z = first; z < last; z++) {
        const target = targets[z]!
        if (target.people === 0) continue
        const perM2 = target.people / target.peopledM2
        const [stem, crown, scatter] = [
          perM2 * target.stemM2[l]!,
          perM2 * target.crownM2[l]!,
          q * perM2 * target.ringM2[l]!,
        ]
        people += stem + crown + scatter
        row[6]! += weight * stem
        row[7]! += weight * crown
        row[8]! += weight * scatter
      }
      mean += weight * people
      if (people < least) least = people
      if (people > most) most = people
      // Equal where one bearing or nobody is left to differ, but for rounding.
      const any = Math.min(touch, t < 0 ? sweep.jointAny[l]! : targets[t]!.any[l]!)
      anyMean += weight * any
      if (any < anyLeast) anyLeast = any
      if (any > anyMost) anyMost = any
    }
    // A mean of them, but for rounding.
    row[0] = Math.min(touchMost, Math.max(touchLeast, touchMean))
    row[1] = touchLeast
    row[2] = touchMost
    row[3] = Math.min(most, Math.max(least, mean))
    row[4] = least
    row[5] = most
    anyMean = Math.min(anyMost, Math.max(anyLeast, anyMean))
    const bound = -Math.expm1(-row[3]!)
    row[9] = Math.min(anyMean, row[0]!, bound)
    row[10] = Math.min(anyLeast, bound)
    row[11] = anyMost
  }
}

function overlapping(a: readonly number[], b: readonly number[]): boolean {
  for (let i = 0; i < a.length; i += 2)
    for (let k = 0; k < b.length; k += 2) if (a[i]! < b[k + 1]! && b[k]! < a[i + 1]!) return true
  return false
}

/** Angles at which a corner of a zone and one of a shelter lie in one lane: there what is left behind it may change at once. */
function inLine(zone: ZoneRings, shelter: ZoneRings, events: Events): void {
  for (let ring = 0; ring + 1 < zone.starts.length; ring++)
    for (let i = zone.starts[ring]!; i + 1 < zone.starts[ring + 1]!; i++)
      for (let other = 0; other + 1 < shelter.starts.length; other++)
        for (let k = shelter.starts[other]!; k + 1 < shelter.starts[other + 1]!; k++) {
          const [dx, dy] = [zone.x[i]! - shelter.x[k]!, zone.y[i]! - shelter.y[k]!]
          if (dx !== 0 || dy !== 0) events.add(Math.atan2(dy, dx), 0)
        }
}
