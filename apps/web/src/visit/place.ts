import type { Tree } from '@underbough/model'
import { drawnOf, type Frame, type PortraitTree, portraitSheet } from '@underbough/pictures'
import type { Place } from './kinds.ts'

/** A drawing of the tree's own portrait on which a height is tapped: which part of it shows, and at what scale. */
export interface Sheet {
  frame: Frame
  /** Metres up that the drawing shows; what is above is cut off. */
  topM: number
  /** Height of the box, px, and its ground line from the top. */
  tallPx: number
  groundPx: number
  /** Height of the whole portrait, px: it stands on the foot of the box. */
  portraitPx: number
}

/** Under the ground line, px: what a portrait leaves there. */
const FOOT_PX = 10
const HEAD_PX = 10

/** How high the drawing reaches, metres: the foot, the lower stem, or for what sits in the crown the whole tree. */
export function topOf(place: Place, heightM: number, crownBaseM: number): number {
  if (place === 'crown') return Math.max(2, heightM)
  if (place === 'foot') return Math.min(Math.max(2, heightM), 3)
  return Math.max(2, Math.min(heightM, Math.max(4, Math.ceil(crownBaseM + 1))))
}

/** Lays the portrait out in a box: as large as the part that is asked for allows, on the tree's own measures. */
export function sheetOf(
  tree: PortraitTree,
  place: Place,
  widePx: number,
  tallPx: number,
  roomPx: number,
): Sheet {
  const drawn = drawnOf(tree)
  const topM = topOf(place, drawn.heightM, drawn.crownBaseM)
  const byHeight = (tallPx - FOOT_PX - HEAD_PX) / topM
  const byWidth = (widePx - roomPx - 6) / (drawn.westM + drawn.eastM + 1)
  const pxPerM = place === 'crown' ? Math.min(byHeight, byWidth) : byHeight
  const wide = widePx - roomPx
  // The crown's own width decides where the foot stands; of a lower stem the middle does.
  const share = place === 'crown' ? (drawn.westM + 0.5) / (drawn.westM + drawn.eastM + 1) : 0.5
  const footPx = roomPx + wide * share
  const frame: Frame = {
    widthPx: widePx,
    pxPerM,
    footPx,
    westM: (footPx - roomPx) / pxPerM,
    eastM: (widePx - footPx) / pxPerM,
  }
  const { groundPx } = portraitSheet(drawn, null, frame)
  return { frame, topM, tallPx, groundPx: tallPx - FOOT_PX, portraitPx: groundPx + FOOT_PX }
}

/** Metres that one step of a tap or an arrow key is worth: half a metre on a tall tree, a tenth on a stem. */
export const stepOf = (topM: number): number => (topM > 10 ? 0.5 : 0.1)

/** Height of a tap on the sheet, metres, never beyond what it shows. */
export function heightAt(
  yPx: number,
  { groundPx, frame, topM }: Pick<Sheet, 'groundPx' | 'frame' | 'topM'>,
): number {
  const metres = Math.min(topM, Math.max(0, (groundPx - yPx) / frame.pxPerM))
  const step = stepOf(topM)
  return Number(Math.min(topM, Math.round(metres / step) * step).toFixed(1))
}

/** Where a finding is drawn, px from the left: on its side of the stem, or out in the crown. For the eye; only its side is known. */
export function pinX(
  tree: PortraitTree,
  place: Place,
  sheet: Sheet,
  heightM: number,
  bearingDeg: number | null,
) {
  const drawn = drawnOf(tree)
  const { footPx, pxPerM } = sheet.frame
  const off = bearingDeg === null ? 0 : Math.sin((bearingDeg * Math.PI) / 180)
  const outM = place === 'crown' ? 0.4 * (off < 0 ? drawn.westM : drawn.eastM) : drawn.stemM / 2
  return footPx + (drawn.axisM(heightM) + off * outM) * pxPerM
}

/** Bearing of a tap from the middle, whole degrees clockwise from north (up). */
export function bearingAt(dx: number, dy: number): number {
  return (Math.round((Math.atan2(dx, -dy) * 180) / Math.PI) + 360) % 360
}

/** The crown seen from above, its four radii joined by quarters of ellipses; `radiusPx` is that of the longest. */
export function crownPlan(radii: NonNullable<Tree['crownRadiiM']>, radiusPx: number): string {
  const most = Math.max(radii.n, radii.e, radii.s, radii.w, 0.1)
  const [n, e, s, w] = [radii.n, radii.e, radii.s, radii.w].map((r) =>
    Math.max(2, (r / most) * radiusPx).toFixed(1),
  )
  return `M0 -${n}A${e} ${n} 0 0 1 ${e} 0A${e} ${s} 0 0 1 0 ${s}A${w} ${s} 0 0 1 -${w} 0A${w} ${n} 0 0 1 0 -${n}Z`
}
