import { FULL_TURN } from '../bearing.ts'

/** Angles and what happens there, in arrays that are used again for every tree. */
export class Events {
  angle = new Float64Array(128)
  /** 1 where something begins like a square root: an edge tangent to a round part. */
  root = new Uint8Array(128)
  count = 0

  /** Adds an angle from −4π to 4π, put within 0 and 2π. */
  add(angle: number, root: 0 | 1): void {
    let at = angle
    while (at < 0) at += FULL_TURN
    while (at >= FULL_TURN) at -= FULL_TURN
    if (this.count === this.angle.length) this.grow()
    this.angle[this.count] = at
    this.root[this.count++] = root
  }

  private grow(): void {
    const angle = new Float64Array(2 * this.count)
    angle.set(this.angle)
    this.angle = angle
    const root = new Uint8Array(2 * this.count)
    root.set(this.root)
    this.root = root
  }

  /** Ascending, by insertion: a zone has a few dozen. */
  sort(): void {
    const { angle, root, count } = this
    for (let i = 1; i < count; i++) {
      const a = angle[i]!
      const r = root[i]!
      let j = i - 1
      while (j >= 0 && angle[j]! > a) {
        angle[j + 1] = angle[j]!
        root[j + 1] = root[j]!
        j--
      }
      angle[j + 1] = a
      root[j + 1] = r
    }
  }
}
