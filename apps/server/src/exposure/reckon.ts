import { type ExposureTable, exposureMethodVersion, exposureOfMany, zoneTable } from '@underbough/exposure'
import { type Encoded, encodeFigures } from './encode.ts'
import {
  type Assumed,
  boxAbout,
  inputsDigest,
  type TreeRead,
  type TreeReckoned,
  treesFrom,
  type ZoneRead,
  zonesFrom,
  zonesNear,
} from './facts.ts'
import type { Box } from './queries.ts'

export interface Reading extends Assumed {
  organisationId: string
  /** As `readTrees` hands them over. */
  trees: string
  /** One box about all trees, for neighbours; else one a tree. */
  together: boolean
  computedAtMs: number
  encode: Encoded['as']
}

/** What is to be put in the place of what is stored. Trees whose digest is the stored one are not in it. */
export interface Reckoned {
  trees: number
  changed: number
  /** Changed trees that have figures stored, to be taken away first. */
  stored: string[]
  written: Encoded | null
}

/** The figures of some trees in two steps: what to read of zones, then all the rest. */
export class Reckoner {
  private reading: Reading | null = null
  private trees: TreeRead[] = []

  /** Where zones are to be looked for. */
  prepare(reading: Reading): Box[] {
    this.reading = reading
    this.trees = treesFrom(reading.trees, reading)
    const boxes = this.trees.flatMap(({ box }) => (box ? [box] : []))
    const all = boxAbout(boxes)
    return reading.together && all ? [all] : boxes
  }

  /** `zones` as `readZones` hands them over. */
  solve(zones: string): Reckoned {
    const known = zonesFrom(zones)
    const near = zonesNear(this.trees, known)
    const standing: TreeReckoned[] = []
    const places: number[][] = []
    const stored: string[] = []
    this.trees.forEach((tree, t) => {
      const digest =
        tree.falling &&
        inputsDigest(
          tree,
          near[t]!.map((z) => known[z]!),
        )
      if (digest === tree.storedDigest) return
      if (tree.storedDigest) stored.push(tree.id)
      if (!digest) return
      standing.push({ ...tree, digest })
      places.push(near[t]!)
    })
    const gone = stored.length - standing.filter(({ storedDigest }) => storedDigest).length
    return {
      trees: this.trees.length,
      changed: standing.length + gone,
      stored,
      written: standing.length > 0 ? this.write(standing, places, known) : null,
    }
  }

  private write(trees: TreeReckoned[], places: number[][], zones: ZoneRead[]): Encoded {
    const { policy, edition, organisationId, computedAtMs, encode } = this.reading!
    const figures: ExposureTable = exposureOfMany(
      trees.map(({ falling, position }) => ({ tree: falling!, position })),
      (t) => places[t]!,
      zoneTable(zones),
      policy,
    )
    return encodeFigures(encode, trees, zones, figures, {
      organisationId,
      policyEdition: edition,
      methodVersion: exposureMethodVersion,
      computedAtMs,
    })
  }
}
