import type { Session } from '@underbough/db'
import { densityPerDegOf, flagCodes, flagsOfBits, likeliestOutline } from '@underbough/exposure'
import type { Position } from '@underbough/model'
import { exposurePolicyOf } from '../policy/exposure.ts'
import { inputsDigest, treesFrom, zonesFrom, zonesNear } from './facts.ts'
import * as queries from './queries.ts'

/**
 * What the pictures and the reasons of one tree need, or null where nothing was computed yet. The figures are the stored ones;
 * what they follow from is read again from the records, and `current` says whether those are still the same.
 */
export async function exposureView(
  session: Session,
  organisationId: string,
  treeId: string,
  position: Position,
) {
  const stored = await queries.storedExposure(session, organisationId, treeId)
  if (!stored) return null
  const { row, zones } = stored
  const { policy, edition } = await exposurePolicyOf(session, organisationId)
  const read = await queries.readTrees(session, organisationId, { treeIds: [treeId] })
  const roses = await queries.windRoses(session, organisationId)
  const trees = treesFrom(read.rows, { roses, policy, edition })
  const [tree] = trees
  if (!tree?.falling || !tree.box) return null
  const about = zonesFrom((await queries.readZones(session, organisationId, [tree.box])).rows)
  const near = zonesNear(trees, about)[0]!.map((z) => about[z]!)
  const density = densityPerDegOf(tree.falling, policy)
  return {
    computedAt: row.computedAt,
    methodVersion: row.methodVersion,
    current: inputsDigest(tree, near) === row.inputsDigest,
    reachM: row.reachM,
    flags: flagsOfBits(row.flags).map((code) => ({ code, zoneIds: zonesWith(code, zones) })),
    joint: figuresOf(row),
    density,
    inputs: { tree: tree.falling, policy, policyEdition: row.policyEdition },
    ...likeliestOutline(tree.falling, position, density, policy),
    zones: zones
      .map(({ row: zone, name, kind, geometry }) => ({
        zoneId: zone.zoneId,
        name,
        kind,
        geometry,
        ...figuresOf(zone),
        groundWithin: { stem: zone.groundStem, crown: zone.groundCrown },
        touching: arcsOf(zone.touching),
      }))
      .sort((a, b) => b.people.mean - a.people.mean || b.pTouch.mean - a.pTouch.mean),
  }
}

type Stored = NonNullable<Awaited<ReturnType<typeof queries.storedExposure>>>

const zonesWith = (code: (typeof flagCodes)[number], zones: Stored['zones']) =>
  zones.flatMap(({ row }) => (row.flags & (1 << flagCodes.indexOf(code)) ? [row.zoneId] : []))

const figuresOf = (row: Stored['row'] | Stored['zones'][number]['row']) => ({
  pTouch: { mean: row.pTouch, least: row.pTouchLeast, most: row.pTouchMost },
  people: {
    mean: row.people,
    least: row.peopleLeast,
    most: row.peopleMost,
    stem: row.peopleStem,
    crown: row.peopleCrown,
    scatter: row.peopleScatter,
  },
  pAny: row.pAny,
  pAnyRange: { least: row.pAnyLeast, most: row.pAnyMost },
})

/** From and to of each arc, stored one after the other. */
const arcsOf = (flat: readonly number[]) =>
  Array.from({ length: flat.length / 2 }, (_, i) => ({ fromDeg: flat[2 * i]!, toDeg: flat[2 * i + 1]! }))
