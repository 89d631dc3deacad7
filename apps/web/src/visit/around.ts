import {
  defaultExposurePolicy,
  fallingTreeOn,
  likeliestOutline,
  type TreeExposure,
  underOf,
  type ZoneOnGround,
} from '@underbough/exposure'
import type { OccupancyWord, Scenario, Tree, Zone } from '@underbough/model'
import type { ExposureEditions, TreeExposureView, ZoneExposureView } from '../api/index.ts'

/** A zone with its outline, as the office answers it. */
export type ZoneKept = ZoneOnGround &
  Pick<Zone, 'name' | 'kind' | 'occupancyWord' | 'valueAtStake' | 'updatedAt'>

/** What the office worked out, with the tree it was worked out for. */
export type StoredExposure = TreeExposureView & {
  inputs?: { tree: { windRose?: readonly number[] | null }; policyEdition?: number }
}
/** What exposure assumes, as far as this device knows it. */
export type Assumed = Pick<ExposureEditions, 'edition' | 'policy'>
const starting: Assumed = { edition: 0, policy: defaultExposurePolicy }

/**
 * Whether the office's figures still speak of this tree and these zones: nothing that shapes the fall was put right on this device, no
 * zone near was changed since, and no newer edition of what exposure assumes is known here.
 */
export function isCurrent(
  stored: StoredExposure,
  tree: Tree,
  zones: readonly ZoneKept[],
  edition = 0,
): boolean {
  if ((stored.inputs?.policyEdition ?? edition) < edition) return false
  const before = stored.inputs?.tree
  if (before) {
    const now = fallingTreeOn(tree, before.windRose ?? null)
    if (JSON.stringify(sorted(now)) !== JSON.stringify(sorted(before))) return false
  }
  return zones.every((zone) => Date.parse(zone.updatedAt) <= Date.parse(stored.computedAt))
}
const sorted = (value: object | null) => value && Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1))

/**
 * Who is under the tree and under each part that may fail: the office's figures while they are current, else worked out on this device
 * from the zones it keeps. Null where nothing stands that could fall.
 */
export function exposureOnPhone(
  stored: StoredExposure | null,
  tree: Tree,
  windRose: readonly number[] | null,
  zones: readonly ZoneKept[],
  now: Date,
  { edition, policy }: Assumed = starting,
  scenarios: readonly Scenario[] = [],
): { exposure: TreeExposureView | null; reckonedHere: boolean } {
  if (stored && isCurrent(stored, tree, zones, edition)) return { exposure: stored, reckonedHere: false }
  const rose = windRose ?? stored?.inputs?.tree.windRose ?? null
  const under = underOf(tree, rose, zones, scenarios, policy)
  const falling = fallingTreeOn(tree, rose)
  if (!under || !falling) return { exposure: null, reckonedHere: true }
  const figure = under.whole
  return {
    exposure: {
      computedAt: now.toISOString(),
      methodVersion: figure.methodVersion,
      reachM: figure.reachM,
      flags: figure.flags,
      joint: figure.joint,
      density: figure.densityPerDeg,
      ...likeliestOutline(falling, tree.position, figure.densityPerDeg, policy),
      zones: zonesOf(figure, zones),
      under: { ...under, policyEdition: edition, named: [...zones] },
    },
    reckonedHere: true,
  }
}

function zonesOf(figure: TreeExposure, zones: readonly ZoneKept[]): ZoneExposureView[] {
  const byId = new Map(zones.map((zone) => [zone.id, zone]))
  return figure.zones
    .filter((zone) => zone.pTouch.most > 0)
    .map((zone): ZoneExposureView => {
      const { name, kind, geometry } = byId.get(zone.id)!
      const { pTouch, people, pAny, touchingBearings } = zone
      return { zoneId: zone.id, name, kind, geometry, pTouch, people, pAny, touching: touchingBearings }
    })
    .sort((a, b) => b.people.mean - a.people.mean || b.pTouch.mean - a.pTouch.mean)
}

/** The trade's word for the use of each zone. */
export const wordsOf = (
  zones: readonly Pick<Zone, 'id' | 'occupancyWord'>[],
): Record<string, OccupancyWord> => Object.fromEntries(zones.map((zone) => [zone.id, zone.occupancyWord]))
