import type { Target } from './target.ts'

const SAME = 1e-12

/** Where panels may begin and end: the kinks and ends of contact of all zones of a tree, in room that is used again. */
export class Breaks {
  at = new Float64Array(256)
  /** A kink is 0, one like a square root 1, an end of contact 2, both of these 3. */
  kinds = new Uint8Array(256)
  count = 0

  gather(targets: readonly Target[], count: number): void {
    this.count = 0
    for (let t = 0; t < count; t++) {
      const { arcs, events, bodyEnds } = targets[t]!
      if (arcs.length === 0) continue
      for (let k = 0; k < arcs.length; k++) this.add(arcs[k]!, 2)
      for (let k = 0; k < bodyEnds.length; k++) this.add(bodyEnds[k]!, 2)
      let arc = 0
      for (let k = 0; k < events.count; k++) {
        const angle = events.angle[k]!
        while (arc < arcs.length && arcs[arc + 1]! < angle) arc += 2
        if (arc >= arcs.length) break
        if (angle >= arcs[arc]!) this.add(angle, events.root[k]!)
      }
    }
    this.sort()
    this.join()
  }

  private add(angle: number, kind: number): void {
    if (this.count === this.at.length) {
      const { at, kinds } = this
      this.at = new Float64Array(2 * this.count)
      this.at.set(at)
      this.kinds = new Uint8Array(2 * this.count)
      this.kinds.set(kinds)
    }
    this.at[this.count] = angle
    this.kinds[this.count++] = kind
  }

  private sort(): void {
    const { at, kinds, count } = this
    for (let i = 1; i < count; i++) {
      const angle = at[i]!
      const kind = kinds[i]!
      let j = i - 1
      while (j >= 0 && at[j]! > angle) {
        at[j + 1] = at[j]!
        kinds[j + 1] = kinds[j]!
        j--
      }
      at[j + 1] = angle
      kinds[j + 1] = kind
    }
  }

  /** Makes one of those at one angle. */
  private join(): void {
    const { at, kinds, count } = this
    if (count === 0) return
    let last = 0
    for (let i = 1; i < count; i++) {
      if (at[i]! - at[last]! < SAME) kinds[last]! |= kinds[i]!
      else {
        last++
        at[last] = at[i]!
        kinds[last] = kinds[i]!
      }
    }
    this.count = last + 1
  }
}
