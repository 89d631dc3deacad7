import type { ZoneKind } from '@underbough/model'
import type { Point } from '../draw/geometry.ts'
import { bearing, compassWord, counted, listed, metres } from '../draw/say.ts'
import { drawnOf } from '../portrait/dimensions.ts'
import type { PortraitTree } from '../portrait/types.ts'

/** A target zone about a tree: rings in metres east and north of the tree. */
export interface PlanZone {
  name: string
  kind: ZoneKind
  ring: readonly Point[]
}

/** Where the tree lies if it falls one way: a ring in metres east and north of the tree. */
export interface Footprint {
  ring: readonly Point[]
  bearingDeg: number
  /** Furthest from the foot, metres. */
  reachM: number
  /** Why this way is drawn, “on its lean”. */
  because: string
  /** Ring of ground that pieces of dead or brittle wood are thrown over, in the same metres. */
  thrown?: readonly Point[]
}

export interface PlanFacts {
  tree: PortraitTree
  zones: readonly PlanZone[]
  footprint: Footprint | null
  /** The tree and where it would lie before a change, drawn as dotted lines beside the rest. */
  was?: { tree: PortraitTree; ring: readonly Point[] }
}

/** The plan in words. */
export function describePlan({ tree: record, zones, footprint, was }: PlanFacts): string {
  const tree = drawnOf(record)
  const parts = ['The tree from above, to scale, north up']
  if (record.status === 'standing' && tree.eastM + tree.westM > 0)
    parts.push(
      `Crown radii ${tree.assumed.includes('crown radii') ? 'assumed' : 'measured'}: ${listed([
        `north ${metres(tree.northM)}`,
        `east ${metres(tree.eastM)}`,
        `south ${metres(tree.southM)}`,
        `west ${metres(tree.westM)}`,
      ])}`,
    )
  if (footprint)
    parts.push(
      `Broken outline: where it lies if it falls ${footprint.because}, to ${bearing(footprint.bearingDeg)} (${compassWord(footprint.bearingDeg)}), reaching ${metres(footprint.reachM)}`,
    )
  if (footprint?.thrown) parts.push('Dotted beyond it: how far dead or brittle wood throws pieces')
  if (was) parts.push('Dotted: its crown and where it would lie as it stands now')
  parts.push(
    zones.length > 0
      ? `${counted(zones.length, 'target zone')} about it: ${listed(zones.map((zone) => zone.name))}`
      : 'No target zone about it',
  )
  return `${parts.join('. ')}.`
}

/** One plain sentence for under the plan. */
export function planCaption({ footprint }: PlanFacts): string {
  if (!footprint) return 'Crown and stem from above, north up.'
  return `Hatched: where it would lie if it fell ${footprint.because}; its furthest twig ${metres(footprint.reachM)} from the foot.${footprint.thrown ? ' Dotted: how far its pieces may be thrown.' : ''} It says where, not whether.`
}
