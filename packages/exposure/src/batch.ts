import type { Position } from '@underbough/model'
import { addBearings } from './arcs.ts'
import { falling, shareOf } from './exposure.ts'
import { type ExposureFlag, type ExposureFlagCode, exposureFlagSentences } from './flags.ts'
import type { KnownPairs } from './nesting.ts'
import { defaultExposurePolicy, type ExposurePolicy } from './policy.ts'
import { FIGURES, Reckoner } from './reckoner.ts'
import { silhouetteReachM } from './silhouette.ts'
import { layOut, projection, type ZoneTable } from './table.ts'
import type { FallingTree } from './tree.ts'
import type { ZoneAround } from './zone.ts'

export interface BatchTree {
  tree: FallingTree
  position: Position
}

/** The figures of `Exposure` as columns, one row a target; chances and people as there. */
export interface FigureColumns {
  touchMean: Float64Array
  touchLeast: Float64Array
  touchMost: Float64Array
  peopleMean: Float64Array
  peopleLeast: Float64Array
  peopleMost: Float64Array
  peopleStem: Float64Array
  peopleCrown: Float64Array
  peopleScatter: Float64Array
  anyMean: Float64Array
  anyLeast: Float64Array
  anyMost: Float64Array
  /** Where each row's touching bearings begin in `bearings`, counted in numbers; at the end their length. */
  bearingStarts: Int32Array
  /** From and to, degrees clockwise from true north, one after the other (`touchingBearings`). */
  bearings: Float64Array
}

/** Figures of many trees over the zones near each. Pairs stand in the order of the trees and of each tree's zones. */
export interface ExposureTable {
  pairs: FigureColumns & {
    /** Place of the tree among those asked for. */
    tree: Int32Array
    /** Place of the zone in the table. */
    zone: Int32Array
    groundStem: Float64Array
    groundCrown: Float64Array
    /** Bit set of `flagCodes`: what concerns this zone. */
    flags: Uint32Array
  }
  /** Row by tree: all its zones together. */
  trees: FigureColumns & {
    reachM: Float64Array
    /** Bit set of `flagCodes`: of the tree and of its zones. */
    flags: Uint32Array
  }
}

/** What each bit of `flags` says, from the lowest. Codes are only ever added at the end. */
export const flagCodes = Object.keys(exposureFlagSentences) as ExposureFlagCode[]

const bitOf = (code: ExposureFlagCode) => 1 << flagCodes.indexOf(code)
const bitsOf = (flags: readonly ExposureFlag[]) => flags.reduce((bits, { code }) => bits | bitOf(code), 0)

/** The flags whose bits are set. */
export const flagsOfBits = (bits: number): ExposureFlagCode[] =>
  flagCodes.filter((_, place) => bits & (1 << place))

/**
 * Who is under many trees if they fail, each over the zones that `near` names for it (places in the table; those out of
 * reach get zeros): the figures of `exposureOf`, tree by tree, as typed columns. Throws RangeError on a tree whose height is
 * not above zero.
 */
export function exposureOfMany(
  trees: readonly BatchTree[],
  near: (tree: number) => ArrayLike<number>,
  table: ZoneTable,
  policy: ExposurePolicy = defaultExposurePolicy,
): ExposureTable {
  let size = 0
  for (let t = 0; t < trees.length; t++) size += near(t).length
  const pairs = new Rows(size)
  const joints = new Rows(trees.length)
  const tree = new Int32Array(size)
  const zone = new Int32Array(size)
  const groundStem = new Float64Array(size)
  const groundCrown = new Float64Array(size)
  const pairFlags = new Uint32Array(size)
  const reachM = new Float64Array(trees.length)
  const treeFlags = new Uint32Array(trees.length)
  const known = seenBefore(table)
  let row = 0
  for (let t = 0; t < trees.length; t++) {
    const places = near(t)
    const one = trees[t]!
    const made = falling(one.tree, policy)
    reckoner.begin()
    const project = projection(one.position)
    for (let i = 0; i < places.length; i++) {
      const spec = known.spec(places[i]!)
      layOut(table, places[i]!, project, reckoner.add(spec).rings)
    }
    reckoner.run(made.fall, made.lobes, known)
    reachM[t] = silhouetteReachM(made.fall.silhouette)
    let flags = bitsOf(made.flags) | bitsOf(reckoner.flags)
    const first = row
    for (let i = 0; i < places.length; i++) {
      const target = reckoner.targets[i]!
      pairs.add(reckoner, i, target.arcs)
      tree[row] = t
      zone[row] = places[i]!
      groundStem[row] = shareOf(target.wholeStemM2, target.groundM2)
      groundCrown[row] = shareOf(target.wholeCrownM2, target.groundM2)
      if (!(target.rings.areaM2 > 0)) pairFlags[row] = bitOf('zone-no-area')
      flags |= pairFlags[row]!
      row++
    }
    for (const { code, zoneIds } of reckoner.flags)
      for (let i = 0; i < places.length; i++)
        if (zoneIds.includes(table.ids[places[i]!]!)) pairFlags[first + i]! |= bitOf(code)
    joints.add(reckoner, -1, reckoner.jointArcs())
    treeFlags[t] = flags
  }
  return {
    pairs: { ...pairs.columns(), tree, zone, groundStem, groundCrown, flags: pairFlags },
    trees: { ...joints.columns(), reachM, flags: treeFlags },
  }
}

/** The buffers of a table, to be handed over to another thread and not copied. */
export const buffersOf = (table: ExposureTable): ArrayBuffer[] =>
  [...Object.values(table.pairs), ...Object.values(table.trees)].map((column) => column.buffer as ArrayBuffer)

const reckoner = new Reckoner()

/** What is worked out once for a table: each zone as the kernel takes it, and how pairs of zones lie to one another. */
class Seen implements KnownPairs {
  readonly relations: KnownPairs['relations'] = new Map()
  private readonly specs: (Spec | undefined)[]

  constructor(private readonly table: ZoneTable) {
    this.specs = new Array(table.count)
  }

  spec(place: number): Spec {
    let spec = this.specs[place]
    if (!spec) {
      const { table } = this
      const zone = table.zones[place]!
      const { groupSize, shelterHeightM, shelterClass } = zone
      spec = {
        place,
        id: zone.id,
        polygons: [],
        areaM2: zone.areaM2,
        hours: table.profiles[table.profileOf[place]!]!,
        staticTarget: zone.staticTarget,
        partOf: zone.partOf,
        groupSize: groupSize ?? 1,
        shelter: shelterHeightM && shelterClass ? { heightM: shelterHeightM, class: shelterClass } : null,
      }
      this.specs[place] = spec
    }
    return spec
  }

  key(one: ZoneAround, other: ZoneAround): number {
    return (one as Spec).place * this.table.count + (other as Spec).place
  }
}

type Spec = ZoneAround & { place: number }

const seen = new WeakMap<ZoneTable, Seen>()

function seenBefore(table: ZoneTable): Seen {
  let known = seen.get(table)
  if (!known) {
    known = new Seen(table)
    seen.set(table, known)
  }
  return known
}

/** Figures gathered row by row. */
class Rows {
  private readonly figures: Float64Array[]
  private readonly starts: Int32Array
  private readonly bearings: number[] = []
  private row = 0

  constructor(size: number) {
    this.figures = FIGURES.map(() => new Float64Array(size))
    this.starts = new Int32Array(size + 1)
  }

  add(from: Reckoner, target: number, arcs: readonly number[]): void {
    if (arcs.length > 0) {
      from.figures(target)
      for (let k = 0; k < FIGURES.length; k++) this.figures[k]![this.row] = from.row[k]!
      addBearings(arcs, this.bearings)
    }
    this.starts[++this.row] = this.bearings.length
  }

  columns(): FigureColumns {
    const figures = Object.fromEntries(FIGURES.map((name, k) => [name, this.figures[k]!]))
    return {
      ...(figures as Record<(typeof FIGURES)[number], Float64Array>),
      bearingStarts: this.starts,
      bearings: Float64Array.from(this.bearings),
    }
  }
}
