import { Patterns } from '../draw/patterns.tsx'
import { Picture, type PictureProps, usePrefix, Words } from '../draw/picture.tsx'
import { Beside, Ground, Lean, MetreRule } from './around.tsx'
import { Crown } from './crown-view.tsx'
import { describePortrait, type PortraitFacts } from './describe.ts'
import { type Drawn, drawnOf } from './dimensions.ts'
import { Person, personM, targetHeightM } from './figures.tsx'
import { type Frame, frameOf, placer, ruleRoomPx, targetSide } from './frame.ts'
import { Pins, pinsOf } from './pins.tsx'
import { Pole, Stump } from './stem.tsx'
import type { PortraitTarget } from './types.ts'

/**
 * A tree in elevation, seen from the south, to scale: crown, stem and lean as measured, findings at their height and
 * bearing, a person and the nearest target for scale, a metre rule. A target stands at its true distance, on the east or
 * west side. What nobody measured is assumed, drawn broken and said. `small` leaves the words out but keeps the figures of the rule.
 */
export function TreePortrait(
  props: PortraitFacts &
    PictureProps & { small?: boolean; maxHeightPx?: number; frame?: Frame; seed?: number },
) {
  const {
    tree,
    findings = [],
    target = null,
    small = false,
    widthPx = 508,
    textScale = 1,
    seed = 417,
  } = props
  const prefix = usePrefix()
  const drawn = drawnOf(tree)
  const room = {
    widthPx,
    roomPx: (small ? 32 : ruleRoomPx) * textScale,
    ...(props.maxHeightPx ? { maxHeightPx: props.maxHeightPx } : {}),
  }
  const frame = props.frame ?? frameOf(drawn, target, room)
  const { topM, groundPx } = portraitSheet(drawn, target, frame)
  const rightPx = frame.footPx + frame.eastM * frame.pxPerM
  const place = placer(frame, groundPx)
  return (
    <Picture
      widthPx={props.frame ? widthPx : Math.min(widthPx, rightPx + 8)}
      heightPx={groundPx + (small ? 10 : target ? 20 + 14 * textScale : 12)}
      says={describePortrait(props)}
      textScale={textScale}
    >
      <Patterns prefix={prefix} zones={target ? [target.kind] : []} />
      <MetreRule
        frame={frame}
        groundPx={groundPx}
        topM={topM}
        rightPx={small ? room.roomPx : rightPx}
        leftPx={room.roomPx}
      />
      {tree.status === 'standing' || tree.status === 'gone' ? (
        <Crown tree={drawn} place={place} pxPerM={frame.pxPerM} record={tree} small={small} seed={seed} />
      ) : tree.status === 'pole' ? (
        <Pole tree={drawn} place={place} pxPerM={frame.pxPerM} />
      ) : (
        <Stump tree={drawn} place={place} pxPerM={frame.pxPerM} />
      )}
      <Ground groundPx={groundPx} leftPx={room.roomPx - 4} rightPx={rightPx + 4} />
      <Person x={place(personAtM(drawn, target), 0)[0]} y={groundPx} pxPerM={frame.pxPerM} />
      {target && <Beside target={target} frame={frame} groundPx={groundPx} small={small} prefix={prefix} />}
      {tree.status !== 'gone' && !!tree.lean?.angleDeg && (
        <Lean tree={drawn} lean={tree.lean} place={place} small={small || tree.status === 'stump'} />
      )}
      {tree.status !== 'gone' && <Pins pins={pinsOf(findings, drawn, frame, groundPx, small)} />}
      {tree.status === 'gone' && !small && (
        <Words x={place(0, 0)[0]} y={groundPx - 26} anchor="middle" italic halo>
          stood here
        </Words>
      )}
    </Picture>
  )
}

/** How far up a portrait reaches, metres, and where its ground line lies from the top, px. For those who place things on it. */
export function portraitSheet(drawn: Drawn, target: PortraitTarget | null, frame: Frame) {
  const topM = Math.max(drawn.heightM, target ? targetHeightM(target.kind, target.heightM) : 0, personM + 0.4)
  return { topM, groundPx: (topM + 0.8) * frame.pxPerM + 6 }
}

/** Between the stem and the target where there is room, else on the other side. */
function personAtM(tree: Drawn, target: PortraitTarget | null): number {
  const side = target ? targetSide(target) : 1
  const from = Math.max(1.6, tree.stemM * 1.5)
  if (!target) return from + 1.4
  return target.distanceM > from + 1.2 ? side * Math.max(from, target.distanceM * 0.55) : -side * from
}
