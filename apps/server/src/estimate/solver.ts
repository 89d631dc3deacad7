import { parentPort } from 'node:worker_threads'
import {
  type ExposurePolicy,
  exposureOfScenario,
  type FallingTree,
  hoursOfZones,
  type ZoneOnGround,
  zonesAround,
} from '@underbough/exposure'
import type { Position, Scenario } from '@underbough/model'

/** Scenarios, each with its tree and the places in `zones` of those near it; a tree that cannot fall is null. */
export interface ScenarioTask {
  scenarios: { scenario: Scenario; falling: FallingTree | null; position: Position; near: number[] }[]
  zones: ZoneOnGround[]
  policy: ExposurePolicy
}

/** People within the outline of a scenario, by zone; zones that nobody is in are left out. */
export type ScenarioZones = { zoneId: string; mean: number; least: number; most: number }[]

/** The people under each scenario of a task, in its order. */
export function solveScenarios({ scenarios, zones, policy }: ScenarioTask): ScenarioZones[] {
  const hours = hoursOfZones(zones)
  return scenarios.map(({ scenario, falling, position, near }) => {
    if (!falling) return []
    const around = near.map((place) => zones[place]!)
    return exposureOfScenario(falling, scenario, zonesAround(position, around, hours), policy)
      .zones.filter(({ people }) => people.most > 0)
      .map(({ id, people: { mean, least, most } }) => ({ zoneId: id, mean, least, most }))
  })
}

parentPort?.on('message', (task: ScenarioTask) => parentPort!.postMessage(solveScenarios(task)))
