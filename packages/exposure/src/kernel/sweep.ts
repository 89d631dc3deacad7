import { type Fall, reachAtM } from '../fall.ts'
import { type JointHours, jointHours, jointNobody } from '../hours.ts'
import { planShare } from '../slope.ts'
import { type Overlap, overlapAt, overlaps } from './area.ts'
import { Breaks } from './breaks.ts'
import { LobeTable } from './lobes.ts'
import { ringSectorM2 } from './ring.ts'
import { gaussRule, type Rule } from './rules.ts'
import { foreshorten, type Shape } from './shape.ts'
import { shelteredAt } from './shelter.ts'
import { LOBES, type Target } from './target.ts'

const MOST = 5
const RULES = [0, 1, 2, 3, 4, 5].map((size) => gaussRule(Math.max(1, size)))
const DEG = Math.PI / 180
/** Kinks nearer to one another than this are one. */
const APART = 0.03 * DEG
/** Narrower than this nothing is cut further. */
const NARROWEST = 1e-9
const WIDEST = 8 * DEG
/** A panel is cut in two at most so many times over. */
const DEEPEST = 40

/** What a panel's highest Legendre terms may come to, in the figures themselves: what the rule leaves out is far less. */
const TOLERANCE = 1e-5
/** Up to these widths two and three nodes do. */
const TWO_UP_TO = 0.3 * DEG
const THREE_UP_TO = 2 * DEG
/** No panel is wider than this share of a lobe's own width, 1 / √concentration. */
const OF_LOBE = 0.5

/**
 * Integrates every figure of one tree over the angles at which it meets anything. Between neighbouring kinks everything is
 * smooth, and a few Gauss nodes do; where an edge becomes tangent to something round the shared ground begins like a power
 * of one and a half, and the angle is squared there. A panel whose highest terms have not died away is cut in two.
 */
export class Sweep {
  readonly lobes = new LobeTable()
  /** All targets together: chance of touching any, of anybody within any. */
  readonly jointTouch = new Float64Array(LOBES)
  readonly jointAny = new Float64Array(LOBES)

  private fall!: Fall
  private shape!: Shape
  private readonly sloped = {} as Shape
  private targets: readonly Target[] = []
  private active = new Int32Array(64)
  private activeCount = 0
  private isActive = new Uint8Array(64)
  private stem = new Float64Array(64 * MOST)
  private crown = new Float64Array(64 * MOST)
  private ring = new Float64Array(64 * MOST)
  private touch = new Float64Array(64 * MOST)
  private any = new Float64Array(64 * MOST)
  private share = new Float64Array(64 * MOST)
  private withRing = new Float64Array(64 * MOST)
  private anyWithRing = new Float64Array(64 * MOST)
  private together = new Float64Array(64 * MOST)
  private readonly anyTogether = new Float64Array(MOST)
  private readonly ownStem = new Float64Array(MOST)
  private readonly ownCrown = new Float64Array(MOST)
  private readonly chance = new Float64Array(LOBES * MOST)
  private readonly angle = new Float64Array(MOST)
  private readonly cos = new Float64Array(MOST)
  private readonly sin = new Float64Array(MOST)
  private readonly weight = new Float64Array(MOST)
  private readonly stack = new Float64Array(4 * DEEPEST)
  private readonly ends = new Uint8Array(2 * DEEPEST)
  private readonly mixture = new Float64Array(MOST)
  private readonly jointAnyAt = new Float64Array(MOST)
  private readonly jointTouchAt = new Float64Array(MOST)
  /** The active targets that have people, and the hours they share if there is more than one. */
  private peopled = new Int32Array(64)
  private peopledCount = 0
  private hours: JointHours | null = null
  private readonly out: Overlap = { stemM2: 0, crownM2: 0 }
  private readonly breaks = new Breaks()

  /** Lobes are set before. */
  run(fall: Fall, shape: Shape, targets: readonly Target[], count: number): void {
    this.fall = fall
    this.shape = shape
    this.targets = targets
    this.jointTouch.fill(0)
    this.jointAny.fill(0)
    Object.assign(this.sloped, shape)
    this.makeRoom(count)
    this.isActive.fill(0)
    this.breaks.gather(targets, count)
    const widest = Math.min(WIDEST, OF_LOBE / Math.sqrt(this.lobes.tightest))
    const { at, kinds, count: breaks } = this.breaks
    let start = 0
    for (let i = 1; i < breaks; i++) {
      const from = at[start]!
      const to = at[i]!
      if (to - from < APART && kinds[i]! < 2) continue
      if (to - from > 1e-13 && this.setActive(count, (from + to) / 2)) {
        const pieces = Math.ceil((to - from) / widest)
        const step = (to - from) / pieces
        const left = (kinds[start]! & 1) === 1
        const right = (kinds[i]! & 1) === 1
        for (let k = 0; k < pieces; k++)
          this.panel(from + k * step, step, left && k === 0, right && k === pieces - 1)
      }
      start = i
    }
  }

  private makeRoom(count: number): void {
    if (count <= this.isActive.length) return
    this.isActive = new Uint8Array(2 * count)
    this.active = new Int32Array(2 * count)
    this.peopled = new Int32Array(2 * count)
    for (const name of ROOMS) this[name] = new Float64Array(2 * count * MOST)
  }

  /** Notes which targets are met at an angle; whether any is. */
  private setActive(count: number, angle: number): boolean {
    this.activeCount = 0
    let changed = false
    for (let t = 0; t < count; t++) {
      const { arcs } = this.targets[t]!
      let met = 0
      for (let k = 0; k < arcs.length; k += 2)
        if (angle > arcs[k]! && angle < arcs[k + 1]!) {
          met = 1
          break
        }
      if (this.isActive[t] !== met) changed = true
      this.isActive[t] = met
      if (met) this.active[this.activeCount++] = t
    }
    if (changed) this.joinHours()
    return this.activeCount > 0
  }

  private joinHours(): void {
    this.peopledCount = 0
    for (let a = 0; a < this.activeCount; a++)
      if (this.targets[this.active[a]!]!.people > 0) this.peopled[this.peopledCount++] = this.active[a]!
    this.hours = this.peopledCount > 1 ? jointHours(this.targets, this.peopled, this.peopledCount) : null
  }

  /** Lays a panel and what it must be cut into, from the stack, which holds from, width and which ends are roots. */
  private panel(from: number, width: number, rootLeft: boolean, rootRight: boolean): void {
    const { stack, ends } = this
    stack[0] = from
    stack[1] = width
    ends[0] = (rootLeft ? 1 : 0) + (rootRight ? 2 : 0)
    let top = 1
    while (top > 0) {
      top--
      const start = stack[2 * top]!
      const wide = stack[2 * top + 1]!
      const roots = ends[top]!
      if (roots < 3) {
        const size = wide <= TWO_UP_TO ? 2 : wide <= THREE_UP_TO ? 3 : 4
        const rule = RULES[roots > 0 && size > 2 ? size + 1 : size]!
        this.lay(rule, top)
        if (rule.size < 3 || wide <= NARROWEST || top > DEEPEST || !this.pending(rule, wide)) {
          this.addUp(rule.size)
          continue
        }
      }
      stack[2 * top] = start
      stack[2 * top + 1] = wide / 2
      ends[top++] = roots & 1
      stack[2 * top] = start + wide / 2
      stack[2 * top + 1] = wide / 2
      ends[top++] = roots & 2
    }
  }

  /** Works out everything at the nodes of the panel at a place of the stack. */
  private lay(rule: Rule, top: number): void {
    const { lobes, chance, angle, cos, sin, mixture, targets, active, activeCount } = this
    const { size } = rule
    const from = this.stack[2 * top]!
    const width = this.stack[2 * top + 1]!
    const roots = this.ends[top]!
    for (let k = 0; k < size; k++) {
      let t = rule.at[k]!
      let weight = rule.weight[k]! * width
      if (roots === 1) {
        weight *= 2 * t
        t *= t
      } else if (roots === 2) {
        weight *= 2 * (1 - t)
        t = 1 - (1 - t) * (1 - t)
      }
      const at = from + t * width
      angle[k] = at
      cos[k] = Math.cos(at)
      sin[k] = Math.sin(at)
      this.weight[k] = weight
    }
    mixture.fill(0)
    for (let l = 0; l < lobes.count; l++) {
      lobes.fill(l, angle, cos, sin, size, chance, l * MOST)
      const share = lobes.weights[l]!
      for (let k = 0; k < size; k++) {
        const c = chance[l * MOST + k]! * this.weight[k]!
        chance[l * MOST + k] = c
        mixture[k]! += share * c
      }
    }
    if (this.fall.slope) this.laySloped(size)
    else
      for (let a = 0; a < activeCount; a++) {
        const t = active[a]!
        overlaps(this.shape, targets[t]!.near, cos, sin, size, this.stem, this.crown, t * MOST)
      }
    for (let a = 0; a < activeCount; a++) {
      const t = active[a]!
      if (targets[t]!.layered) for (let k = 0; k < size; k++) this.layers(targets[t]!, t * MOST + k, k)
    }
    this.present(size)
  }

  /** On a slope the outline is another at every angle. */
  private laySloped(size: number): void {
    const { out } = this
    for (let k = 0; k < size; k++) {
      foreshorten(this.shape, planShare(this.fall.slope!, this.angle[k]!), this.sloped)
      for (let a = 0; a < this.activeCount; a++) {
        const t = this.active[a]!
        overlapAt(this.sloped, this.targets[t]!.near, this.cos[k]!, this.sin[k]!, out)
        this.stem[t * MOST + k] = out.stemM2
        this.crown[t * MOST + k] = out.crownM2
      }
    }
  }

  /** Shelters take from the outline and scatter adds beyond it. Pieces that fly are not held up by a wall. */
  private layers(target: Target, place: number, k: number): void {
    const angle = this.angle[k]!
    const { slope } = this.fall
    const { policy, scatter } = this.fall
    const { residual, least } = policy.shelter
    let touch = this.stem[place]! + this.crown[place]! > 0 ? 1 : 0
    if (touch && target.shelters.length) {
      const shape = slope ? foreshorten(this.shape, planShare(slope, angle), this.sloped) : this.shape
      const lost = shelteredAt(shape, target.near, target.shelters, this.cos[k]!, this.sin[k]!, {
        residual: Math.max(residual, least),
        least,
      })
      this.stem[place] = Math.max(least * this.stem[place]!, this.stem[place]! - lost.stemM2)
      this.crown[place] = Math.max(least * this.crown[place]!, this.crown[place]! - lost.crownM2)
      touch = Math.max(least, lost.left)
    }
    this.ring[place] = 0
    if (scatter) {
      const reach = slope ? reachAtM(this.fall, angle) : this.shape.reachM
      const ring = ringSectorM2(target.near, reach, reach * scatter.beyond, angle, scatter.halfAngleDeg * DEG)
      this.ring[place] = ring
      if (ring > 0) touch = Math.max(touch, scatter.chance)
    }
    this.touch[place] = touch
  }

  /** Chance of anybody at the nodes, zone by zone and in all of them. */
  private present(size: number): void {
    const { targets, active, activeCount, share, any, touch, jointAnyAt, jointTouchAt } = this
    const { scatter } = this.fall
    jointAnyAt.fill(0)
    jointTouchAt.fill(0)
    for (let a = 0; a < activeCount; a++) {
      const t = active[a]!
      const target = targets[t]!
      const place = t * MOST
      if (target.people === 0) for (let k = 0; k < size; k++) any[place + k] = 0
      else {
        const perM2 = 1 / target.peopledM2
        if (target.inside.length > 0)
          for (let k = 0; k < size; k++)
            share[place + k] =
              (this.ownAt(target, k, this.stem, t) + this.ownAt(target, k, this.crown, t)) * perM2
        else
          for (let k = 0; k < size; k++)
            share[place + k] = (this.stem[place + k]! + this.crown[place + k]!) * perM2
        target.chance.fill(share, any, place, size)
        if (scatter) this.presentWithRing(target, t, size)
      }
      for (let k = 0; k < size; k++) {
        const here = target.layered ? touch[place + k]! : 1
        if (any[place + k]! > here) any[place + k] = here
        if (any[place + k]! > jointAnyAt[k]!) jointAnyAt[k] = any[place + k]!
        if (here > jointTouchAt[k]!) jointTouchAt[k] = here
      }
    }
    if (this.hours) this.presentTogether(this.hours, size)
  }

  /** The chance is that of what scatters or does not, each with its own share of ground. */
  private presentWithRing(target: Target, t: number, size: number): void {
    const { coverage, chance } = this.fall.scatter!
    const { share, withRing, any, anyWithRing } = this
    const place = t * MOST
    for (let k = 0; k < size; k++)
      withRing[place + k] =
        share[place + k]! + (coverage * this.ownAt(target, k, this.ring, t)) / target.peopledM2
    target.chance.fill(withRing, anyWithRing, place, size)
    for (let k = 0; k < size; k++) any[place + k]! += chance * (anyWithRing[place + k]! - any[place + k]!)
  }

  private presentTogether(hours: JointHours, size: number): void {
    const { peopled, peopledCount, together, jointAnyAt, jointTouchAt } = this
    const q = this.fall.scatter?.chance ?? 0
    for (let layer = 0; layer < 2; layer++) {
      const chance = layer === 0 ? 1 - q : q
      if (chance === 0) continue
      const from = layer === 0 ? this.share : this.withRing
      for (let i = 0; i < peopledCount; i++)
        for (let k = 0; k < size; k++) together[i * MOST + k] = from[peopled[i]! * MOST + k]!
      for (let k = 0; k < size; k++) {
        const any = chance * (1 - jointNobody(hours, together, peopledCount, MOST, k))
        this.anyTogether[k] = layer === 0 || q === 1 ? any : this.anyTogether[k]! + any
      }
    }
    for (let k = 0; k < size; k++) {
      const any = Math.min(this.anyTogether[k]!, jointTouchAt[k]!)
      if (any > jointAnyAt[k]!) jointAnyAt[k] = any
    }
  }

  /** A layer of the ground that is a target's own: less what lies in the zones within it. */
  private ownAt(target: Target, k: number, layer: Float64Array, t: number): number {
    let area = layer[t * MOST + k]!
    const { inside } = target
    for (let i = 0; i < inside.length; i++)
      if (this.isActive[inside[i]!]) area -= layer[inside[i]! * MOST + k]!
    return Math.max(area, 0)
  }

  /** Whether the highest terms of any figure are too large still for the panel to stand. */
  private pending(rule: Rule, width: number): boolean {
    const { highest, size } = rule
    let density = 0
    for (let l = 0; l < this.lobes.count; l++) {
      let sum = 0
      for (let k = 0; k < size; k++) sum += this.chance[l * MOST + k]!
      if (sum > density) density = sum
    }
    const limit = TOLERANCE / density
    for (let a = 0; a < this.activeCount; a++) {
      const t = this.active[a]!
      const target = this.targets[t]!
      const place = t * MOST
      let stem = 0
      let crown = 0
      let any = 0
      for (let k = 0; k < size; k++) {
        stem += highest[k]! * this.stem[place + k]!
        crown += highest[k]! * this.crown[place + k]!
        any += highest[k]! * this.any[place + k]!
      }
      const perM2 =
        target.people > 0
          ? Math.max(1 / target.groundM2, target.people / (1 + target.people) / target.peopledM2)
          : 1 / target.groundM2
      if ((Math.abs(stem) + Math.abs(crown)) * perM2 > limit || Math.abs(any) > limit) return true
      if (target.layered && width > 1e-7) {
        let ring = 0
        for (let k = 0; k < size; k++) {
          ring += highest[k]! * this.ring[place + k]!
          if (k > 0 && this.touch[place + k] !== this.touch[place]) return true
        }
        if (Math.abs(ring) * perM2 > limit) return true
      }
    }
    return false
  }

  private addUp(size: number): void {
    const { chance, lobes, mixture, targets, active, activeCount, jointTouchAt, jointAnyAt } = this
    for (let a = 0; a < activeCount; a++) {
      const t = active[a]!
      const target = targets[t]!
      const place = t * MOST
      for (let k = 0; k < size; k++) {
        target.wholeStemM2 += mixture[k]! * this.stem[place + k]!
        target.wholeCrownM2 += mixture[k]! * this.crown[place + k]!
      }
      if (target.inside.length > 0)
        for (let k = 0; k < size; k++) {
          this.ownStem[k] = this.ownAt(target, k, this.stem, t)
          this.ownCrown[k] = this.ownAt(target, k, this.crown, t)
        }
      else
        for (let k = 0; k < size; k++) {
          this.ownStem[k] = this.stem[place + k]!
          this.ownCrown[k] = this.crown[place + k]!
        }
      for (let l = 0; l < lobes.count; l++) {
        let touch = 0
        let stem = 0
        let crown = 0
        let any = 0
        for (let k = 0; k < size; k++) {
          const c = chance[l * MOST + k]!
          touch += target.layered ? c * this.touch[place + k]! : c
          stem += c * this.ownStem[k]!
          crown += c * this.ownCrown[k]!
          any += c * this.any[place + k]!
        }
        target.touch[l]! += touch
        target.stemM2[l]! += stem
        target.crownM2[l]! += crown
        target.any[l]! += any
        if (this.fall.scatter)
          for (let k = 0; k < size; k++)
            target.ringM2[l]! += chance[l * MOST + k]! * this.ownAt(target, k, this.ring, t)
      }
    }
    for (let l = 0; l < lobes.count; l++) {
      let touch = 0
      let any = 0
      for (let k = 0; k < size; k++) {
        touch += chance[l * MOST + k]! * jointTouchAt[k]!
        any += chance[l * MOST + k]! * jointAnyAt[k]!
      }
      this.jointTouch[l]! += touch
      this.jointAny[l]! += any
    }
  }
}

const ROOMS = [
  'stem',
  'crown',
  'ring',
  'touch',
  'any',
  'share',
  'withRing',
  'anyWithRing',
  'together',
] as const
