import { parentPort } from 'node:worker_threads'
import {
  type ExposurePolicy,
  exposureAround,
  type FallingTree,
  hoursOfZones,
  type TreeExposure,
  type ZoneOnGround,
} from '@underbough/exposure'
import type { Position } from '@underbough/model'

/** Trees and the zones near each, as the thread is given them; figures come back in the same order. */
export interface ExposureTask {
  trees: { made: FallingTree; position: Position; zoneIds: string[] }[]
  zones: ZoneOnGround[]
  policy: ExposurePolicy
}

/** The figures of a whole task. */
export function solveExposure({ trees, zones, policy }: ExposureTask): TreeExposure[] {
  const byId = new Map(zones.map((zone) => [zone.id, zone]))
  const hours = hoursOfZones(zones)
  return trees.map(({ made, position, zoneIds }) =>
    exposureAround(
      made,
      position,
      zoneIds.map((id) => byId.get(id)!),
      hours,
      policy,
    ),
  )
}

parentPort?.on('message', (task: ExposureTask) => parentPort!.postMessage(solveExposure(task)))
