import {
  chancePresent,
  distanceToZoneM,
  exposureOfScenario,
  hoursOfZones,
  searchM,
  zonesAround,
} from '@underbough/exposure'
import { questionImpact } from '@underbough/rating'
import { useMemo } from 'react'
import type { ScenarioDraft, TargetDraft } from './judgement.ts'
import type { ScreenProps } from './screen.ts'
import { useZonesAround } from './useGround.ts'

/**
 * What the figures ask about a target's likelihood of impact: the share of hours somebody is there times the share of this part's falls
 * that reach it, by its own direction where one is known. It may question a word, never changes one.
 */
export function useAsked(
  visit: ScreenProps['visit'],
  { part, knownBearingDeg, lengthM, diameterCm, reachM }: ScenarioDraft,
): (target: Pick<TargetDraft, 'zoneId' | 'impact'>) => string | null {
  const { ground } = visit.kept
  const around = useZonesAround(visit.draft.treeId)
  const inputs = ground.exposure?.under?.whole.inputs
  const { position } = ground.whole.tree
  const shares = useMemo(() => {
    const found = new Map<string, { hours: number; bearings: number }>()
    if (!inputs || !around.data) return found
    const { tree, policy } = inputs
    const within = searchM(tree, policy)
    const near = around.data.filter((zone) => distanceToZoneM(position, zone.geometry) <= within)
    const hours = hoursOfZones(near)
    const scenario = { part, knownBearingDeg, lengthM, diameterCm, reachM }
    const { zones } = exposureOfScenario(tree, scenario, zonesAround(position, near, hours), policy)
    zones.forEach((zone, i) => {
      const { staticTarget, groupSize } = near[i]!
      found.set(zone.id, {
        hours: staticTarget ? 1 : chancePresent(hours.get(zone.id)!, groupSize ?? 1),
        bearings: zone.pTouch.mean,
      })
    })
    return found
  }, [inputs, around.data, position, part, knownBearingDeg, lengthM, diameterCm, reachM])
  return ({ zoneId, impact }) => {
    const share = zoneId ? shares.get(zoneId) : undefined
    return share ? questionImpact(impact, share.hours, share.bearings).question : null
  }
}
