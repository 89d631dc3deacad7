import type { WoodSegment } from '@underbough/model'
import type { Piece } from './pieces.ts'
import { weightedMedian } from './robust.ts'
import type { TraceLevels } from './types.ts'

// Shares of the way from air to this trace's firm wood; common practice, no source.
const shares = { softened: 0.6, void: 0.12 }

export type Named = Pick<WoodSegment, 'fromCm' | 'toCm'> & {
  condition: 'sound' | 'softened-brittle' | 'void'
  joined: boolean
}

type Thresholds = Pick<TraceLevels, 'floor' | 'sound' | 'softenedBelow' | 'voidBelow'>

/**
 * Firm wood is the middle of the upper half of the trace. Air is zero, or the lowest plateau where that lies below zero: an instrument that
 * turns in air well above zero shows a void as softened wood, which a person then names.
 */
export function thresholdsOf(pieces: Piece[]): Thresholds {
  const long = pieces.filter(({ fromCm, toCm }) => toCm - fromCm >= 1)
  const judged = long.length > 0 ? long : pieces
  const levels = judged.map(({ level }) => level)
  const floor = Math.min(0, ...levels)
  const half = (Math.max(...levels) + floor) / 2
  const firm = judged.filter(({ level }) => level >= half)
  const sound = weightedMedian(
    firm.map(({ level, fromCm, toCm }) => ({ value: level, weight: toCm - fromCm })),
  )
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
