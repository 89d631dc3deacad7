import type { WoodSegment } from '@underbough/model'
import { figure, listed } from '../draw/say.ts'
import { type WoodFill, woodNames } from './patterns.tsx'

/** A stretch along a reading, cm from the outside of the bark. */
export interface Span {
  fill: WoodFill
  fromCm: number
  toCm: number
}

/** Bark, segments and everything between and behind them that nobody read, up to `toCm`. */
export function spansOf(barkCm: number, segments: readonly WoodSegment[], toCm: number): Span[] {
  const out: Span[] = []
  const add = (fill: WoodFill, fromCm: number, end: number) => {
    if (end - fromCm > 0.05) out.push({ fill, fromCm, toCm: end })
  }
  add('bark', 0, barkCm)
  let reached = barkCm
  for (const segment of segments) {
    add('unread', reached, segment.fromCm)
    add(segment.condition, Math.max(reached, segment.fromCm), segment.toCm)
    reached = Math.max(reached, segment.toCm)
  }
  add('unread', reached, toCm)
  return out
}

/** “bark 1.7 cm, sound 15.6 cm and not read 24 cm”. */
export const spansWords = (spans: readonly Span[]): string =>
  listed(spans.map((one) => `${spanName(one.fill)} ${figure(one.toCm - one.fromCm)} cm`))

export const spanName = (fill: WoodFill): string => (fill === 'unread' ? 'not read' : woodNames[fill])
/** The same, short enough to stand over a strip. */
export const shortName: Readonly<Record<WoodFill, string>> = {
  sound: 'sound',
  stained: 'stained',
  'softened-brittle': 'brittle',
  'softened-fibrous': 'fibrous',
  void: 'nothing',
  bark: 'bark',
  unread: 'not read',
}
