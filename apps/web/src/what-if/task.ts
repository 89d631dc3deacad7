import type { ExposurePolicy, ZoneOnGround } from '@underbough/exposure'
import { type Figures, reckonZone, type TreeFacts } from './reckon.ts'

/** One zone as it stands or as it would be, under the trees that may reach it. */
export interface Task {
  zone: ZoneOnGround
  /** What it is part of, its parts, and buildings that may stop a stem. */
  others: readonly ZoneOnGround[]
  trees: readonly { id: string; facts: TreeFacts; windRose: readonly number[] | null }[]
  policy: ExposurePolicy
}
/** Figures of the zone under each tree, in the order of the trees. */
export type Answer = Figures[]

export const reckonAll = ({ zone, others, trees, policy }: Task): Answer =>
  trees.map(({ facts, windRose }) => reckonZone(facts, windRose, zone, others, policy))
