import { type Shift, workingSpan } from './shifts.ts'
import type { RoundVisit } from './types.ts'

/** Stands for “never on this shift”. */
export const never = 1_000_000_000

/** When a visit may begin, by shift, in working seconds. A visit without windows may begin at any time. */
export class StartWindows {
  /** 1 where the tree has windows at all. */
  readonly has: Uint8Array
  private readonly pattern: Int32Array
  private readonly patterns: number
  private readonly spans: Int32Array
  private readonly first: Int32Array

  constructor(has: Uint8Array, pattern: Int32Array, spansByPattern: number[][][]) {
    this.has = has
    this.pattern = pattern
    this.patterns = spansByPattern.length
    this.first = new Int32Array(has.length * this.patterns + 1)
    const flat: number[] = []
    for (let tree = 0; tree < has.length; tree++)
      for (let p = 0; p < this.patterns; p++) {
        for (const second of spansByPattern[p][tree]) flat.push(second)
        this.first[tree * this.patterns + p + 1] = flat.length
      }
    this.spans = Int32Array.from(flat)
  }

  /** The first second from `second` on at which the visit may begin, or `never`. */
  earliest(tree: number, shift: number, second: number): number {
    if (this.has[tree] === 0) return second
    const at = tree * this.patterns + this.pattern[shift]
    for (let i = this.first[at]; i < this.first[at + 1]; i += 2)
      if (second <= this.spans[i + 1]) return Math.max(second, this.spans[i])
    return never
  }

  /** The last second up to `second` at which the visit may begin, or minus `never`. */
  latest(tree: number, shift: number, second: number): number {
    if (this.has[tree] === 0) return second
    const at = tree * this.patterns + this.pattern[shift]
    for (let i = this.first[at + 1] - 2; i >= this.first[at]; i -= 2)
      if (second >= this.spans[i]) return Math.min(second, this.spans[i + 1])
    return -never
  }

  /** True when the visit may begin at some time of that shift. */
  ever(tree: number, shift: number): boolean {
    return this.earliest(tree, shift, 0) !== never
  }
}

/** Start windows for every tree; shifts with the same weekday and pause share a pattern. */
export function startWindows(
  visits: readonly RoundVisit[],
  shifts: readonly Shift[],
  service: Int32Array,
): StartWindows {
  const has = Uint8Array.from(visits, (visit) => (visit.windows && visit.windows.length > 0 ? 1 : 0))
  const names = shifts.map((shift) => `${shift.weekday} ${shift.pauseAtSecond} ${shift.pauseSeconds}`)
  const kinds = [...new Set(names)]
  const pattern = Int32Array.from(names, (name) => kinds.indexOf(name))
  const spans = kinds.map((name) => {
    const shift = shifts[names.indexOf(name)]
    return visits.map((visit, tree) => (has[tree] ? spansOn(visit, shift, service[tree]) : []))
  })
  return new StartWindows(has, pattern, spans)
}

/** Spans in which the visit may begin on such a shift, in order: [from, to, from, to …]. */
function spansOn(visit: RoundVisit, shift: Shift, service: number): number[] {
  const today = (visit.windows ?? [])
    .filter(
      (window) => !window.weekdays || window.weekdays.length === 0 || window.weekdays.includes(shift.weekday),
    )
    .map((window) => [Math.round(window.fromMinute * 60), Math.round(window.toMinute * 60)])
    .sort((a, b) => a[0] - b[0])
  const joined: number[][] = []
  for (const [from, to] of today) {
    const last = joined[joined.length - 1]
    if (last && from <= last[1]) last[1] = Math.max(last[1], to)
    else joined.push([from, to])
  }
  return joined.flatMap(([from, to]) => workingSpan(shift, from, to - service) ?? [])
}
