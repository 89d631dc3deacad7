import type { WoodSegment } from '@underbough/model'
import type { Piece } from './pieces.ts'
import { weightedMedian } from './robust.ts'
import type { TraceLevels } from './types.ts'

// Shares of the way from air to this trace's firm wood; common practice, no source.
const shares = { softened: 0.6, void: 0.12 }
/** Air is low and even: at most these shares of firm wood's level and spread. */
const air = { level: 0.12, spread: 0.2 }

export type Named = Pick<WoodSegment, 'fromCm' | 'toCm'> & {
  condition: 'sound' | 'softened-brittle' | 'void'
  joined: boolean
}

type Thresholds = Pick<TraceLevels, 'floor' | 'sound' | 'softenedBelow' | 'voidBelow'>

/** Firm wood is where most of the upper half of the trace lies; air is its lowest plateau where that is low and even, otherwise zero. */
export function thresholdsOf(pieces: Piece[]): Thresholds {
  const longest = pieces.filter(({ fromCm, toCm }) => toCm - fromCm >= 1)
  const judged = longest.length > 0 ? longest : pieces
  const lowest = judged.reduce((low, piece) => (piece.level < low.level ? piece : low))
  const top = Math.max(...judged.map(({ level }) => level))
  const base = Math.min(0, lowest.level)
  const firm = judged.filter(({ level }) => level - base >= (top - base) / 2)
  const middle = (value: (piece: Piece) => number) =>
    weightedMedian(firm.map((piece) => ({ value: value(piece), weight: piece.toCm - piece.fromCm })))
  const sound = middle(({ level }) => level)
  const spread = middle((piece) => piece.spread)
  const isAir = lowest.level <= air.level * sound && lowest.spread <= air.spread * spread
  const floor = isAir ? lowest.level : base
  return {
    floor,
    sound,
    softenedBelow: floor + shares.softened * (sound - floor),
    voidBelow: floor + shares.void * (sound - floor),
  }
}

/** Each piece by its level; neighbours of one name become one. */
export function named(pieces: Piece[], { softenedBelow, voidBelow }: Thresholds): Named[] {
  const segments: Named[] = []
  for (const { fromCm, toCm, level, joined } of pieces) {
    const condition = level < voidBelow ? 'void' : level < softenedBelow ? 'softened-brittle' : 'sound'
    const before = segments.at(-1)
    if (joined && before?.condition === condition) before.toCm = toCm
    else segments.push({ fromCm, toCm, condition, joined })
  }
  return segments
}
