import type { Point } from '../draw/geometry.ts'
import { crownSpan } from './crown.ts'
import type { Drawn } from './dimensions.ts'
import type { PortraitTarget } from './types.ts'

/** Where the foot of the tree stands on the sheet and how many px a metre has. Shared by an elevation and the plan under it. */
export interface Frame {
  widthPx: number
  pxPerM: number
  /** Foot of the tree from the left edge, px. */
  footPx: number
  /** Metres shown west and east of the foot. */
  westM: number
  eastM: number
}

/** Room for the metre rule at the left, px. */
export const ruleRoomPx = 40
const LEAST_SIDE_M = 2
const SHOWN_OF_A_WIDE_TARGET_M = 9

/** Width of a target as shown: a long one is drawn only as far as the eye needs. */
export const shownWidthM = (target: PortraitTarget): number =>
  Math.max(0.6, Math.min(target.widthM, SHOWN_OF_A_WIDE_TARGET_M))

/** Side on which the target stands in a view from the south. */
export const targetSide = (target: PortraitTarget): 1 | -1 =>
  Math.sin((target.bearingDeg * Math.PI) / 180) < -0.02 ? -1 : 1

/**
 * The frame that holds a tree and its target in a width, and in a height where one is given. `reachEastM`/`reachWestM`
 * make room for a plan drawn on the same axis.
 */
export function frameOf(
  tree: Drawn,
  target: PortraitTarget | null,
  room: { widthPx: number; maxHeightPx?: number; reachEastM?: number; reachWestM?: number; roomPx?: number },
): Frame {
  const [crownWest, crownEast] = crownSpan(tree)
  const needs = target ? target.distanceM + shownWidthM(target) + 0.8 : 0
  const side = target ? targetSide(target) : 1
  const westM = Math.max(LEAST_SIDE_M, crownWest + 1.2, room.reachWestM ?? 0, side < 0 ? needs : 0)
  const eastM = Math.max(LEAST_SIDE_M * 2, crownEast + 1.2, room.reachEastM ?? 0, side > 0 ? needs : 0)
  const left = room.roomPx ?? ruleRoomPx
  const byWidth = (room.widthPx - left - 8) / (westM + eastM)
  const byHeight = room.maxHeightPx ? (room.maxHeightPx - 42) / (tree.heightM + 1.2) : byWidth
  const pxPerM = Math.max(0.5, Math.min(byWidth, byHeight))
  return { widthPx: room.widthPx, pxPerM, footPx: left + westM * pxPerM, westM, eastM }
}

export const placer =
  (frame: Frame, groundPx: number) =>
  (eastM: number, upM: number): Point => [frame.footPx + eastM * frame.pxPerM, groundPx - upM * frame.pxPerM]
