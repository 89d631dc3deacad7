/** Xorshift: the same seed gives the same numbers on every machine. */
export class Random {
  private state: number

  constructor(seed: number) {
    // Neighbouring seeds must not give neighbouring streams; 0 is the one state xorshift never leaves.
    this.state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) | 0 || 1
    for (let i = 0; i < 8; i++) this.bits()
  }

  /** A whole number from 0 to below 2³². */
  bits(): number {
    let s = this.state
    s ^= s << 13
    s ^= s >>> 17
    s ^= s << 5
    this.state = s
    return s >>> 0
  }

  /** From 0 to below 1. */
  unit(): number {
    return this.bits() / 4294967296
  }

  /** A whole number from 0 to below `count`. */
  below(count: number): number {
    return this.bits() % count
  }
}
