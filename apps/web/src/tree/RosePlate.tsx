import type { Tree } from '@underbough/model'
import { FallRose, type RoseFacts, roseCaption } from '@underbough/pictures'
import type { TreeExposureView } from '../api/index.ts'
import { Plate } from '../look/index.ts'
import { footprintOf, roseZones } from './facts.ts'
import { textScaleOf } from './useWidth.ts'

/** Which way it may fall, and what each bearing would meet. */
export function RosePlate({ no, tree, exposure }: { no: number; tree: Tree; exposure: TreeExposureView }) {
  const facts: RoseFacts = {
    densityPerDeg: exposure.density,
    zones: roseZones(exposure.zones),
    footprint: exposure.outline.length > 2 ? footprintOf(tree, exposure) : null,
    reachM: exposure.reachM,
    leanBearingDeg: tree.lean?.angleDeg ? tree.lean.bearingDeg : null,
    people: exposure.joint.people,
  }
  return (
    <Plate no={no} title="Fall rose" caption={roseCaption(facts)} className="tree-rose">
      <FallRose {...facts} textScale={textScaleOf(window.innerWidth)} />
    </Plate>
  )
}
