import { randomUUID } from 'node:crypto'
import { isDeepStrictEqual } from 'node:util'
import type { Session } from '@underbough/db'
import { today, type Zone, type ZoneInput } from '@underbough/model'
import { doSoon } from '../exposure/service.ts'
import { checkedAreaM2 } from '../geometry/service.ts'
import { conflict } from '../http/conflict.ts'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { checkSite } from '../sites/service.ts'
import {
  allZones,
  countTreesOver,
  deleteZone,
  insertZone,
  partOfZone,
  reopenRatings,
  reopenRatingsInReach,
  standingOn,
  treeIdsNear,
  treesOver,
  updateZone,
  zoneById,
  zonesNearTree,
} from './queries.ts'

/** Reach of a tree whose height nobody knows (Assumption). */
const UNKNOWN_HEIGHT_M = 15

/** The fields that change who is under a tree, in a person's words. */
const fieldWords = {
  geometry: 'outline',
  occupancyWord: 'use',
  occupancy: 'people',
  seasons: 'people',
  groupSize: 'groups',
  staticTarget: 'structure',
  shelterHeightM: 'shelter',
  shelterClass: 'shelter',
  partOf: 'larger zone',
} as const

export const listZones = (deps: Deps, person: Person) => allZones(deps.database.db, person.organisation.id)

/**
 * Zones near a tree, for a device that works out by itself who is under it; further than any tree of a town reaches, so that one that
 * was put right or is new beside it finds its zones too (Assumption).
 */
const AROUND_TREE_M = 80
export const zonesAroundTree = (deps: Deps, person: Person, treeId: string) =>
  zonesNearTree(deps.database.db, person.organisation.id, treeId, AROUND_TREE_M)

export async function oneZone(deps: Deps, person: Person, id: string) {
  const zone = await zoneById(deps.database.db, person.organisation.id, id)
  if (!zone) refuse('unknown', 'id', 'There is no such zone.')
  return {
    zone,
    trees: await treesOver(deps.database.db, person.organisation.id, id),
    treesTotal: await countTreesOver(deps.database.db, person.organisation.id, id),
  }
}

/** A new zone. It makes the ratings of the trees that could reach it stale: they were made without it. */
export async function addZone(deps: Deps, person: Person, input: ZoneInput): Promise<Zone> {
  const { id: organisationId } = person.organisation
  const id = randomUUID()
  const { zone, jobs } = await deps.database.transaction(async (tx) => {
    const areaM2 = await checked(tx, organisationId, id, input)
    await insertZone(tx, organisationId, id, { ...input, areaM2 })
    const because = `The zone “${input.name}” was added on ${dayOf(deps, person)}, within reach.`
    await reopenRatingsInReach(tx, organisationId, input.geometry, UNKNOWN_HEIGHT_M, because)
    return {
      zone: (await zoneById(tx, organisationId, id))!,
      jobs: await jobsFor(tx, deps, person, await treeIdsNear(tx, organisationId, input.geometry)),
    }
  })
  await computeAnew(deps, person, jobs)
  return zone
}

/** Changes a zone. Where the change touches who is under a tree, the ratings that named the zone are opened again. */
export async function changeZone(
  deps: Deps,
  person: Person,
  id: string,
  { version, ...input }: ZoneInput & { version: number },
): Promise<Zone> {
  const { id: organisationId } = person.organisation
  const { zone, jobs } = await deps.database.transaction(async (tx) => {
    const stored = await zoneById(tx, organisationId, id)
    if (!stored) refuse('unknown', 'id', 'There is no such zone.')
    const areaM2 = await checked(tx, organisationId, id, input)
    if (!(await updateZone(tx, organisationId, id, version, { ...input, areaM2 }))) conflict(stored)
    const differing = differences(stored, input)
    const near = new Set<string>()
    if (differing.length > 0) {
      const because = `The zone “${input.name}” changed on ${dayOf(deps, person)}: ${differing.join(', ')}.`
      for (const treeId of await reopenRatings(tx, organisationId, id, because)) near.add(treeId)
      for (const shape of [stored.geometry, input.geometry])
        for (const treeId of await treeIdsNear(tx, organisationId, shape)) near.add(treeId)
    }
    return { zone: (await zoneById(tx, organisationId, id))!, jobs: await jobsFor(tx, deps, person, near) }
  })
  await computeAnew(deps, person, jobs)
  return zone
}

export async function removeZone(deps: Deps, person: Person, id: string) {
  const { id: organisationId } = person.organisation
  const jobs = await deps.database.transaction(async (tx) => {
    const stored = await zoneById(tx, organisationId, id)
    if (!stored) refuse('unknown', 'id', 'There is no such zone.')
    const { parts, walkOvers } = await standingOn(tx, organisationId, id)
    if (parts > 0)
      refuse('in-use', 'id', `${parts} other zones are part of “${stored.name}”. Take them out first.`)
    if (walkOvers > 0)
      refuse(
        'in-use',
        'id',
        `${walkOvers} walk-overs of “${stored.name}” are on record. They would lose their place.`,
      )
    const because = `The zone “${stored.name}” was taken off the map on ${dayOf(deps, person)}.`
    const reopened = await reopenRatings(tx, organisationId, id, because)
    const near = await treeIdsNear(tx, organisationId, stored.geometry)
    await deleteZone(tx, organisationId, id)
    return jobsFor(tx, deps, person, new Set([...reopened, ...near]))
  })
  await computeAnew(deps, person, jobs)
}

async function checked(tx: Session, organisationId: string, id: string, input: ZoneInput): Promise<number> {
  await checkSite(tx, organisationId, input.siteId)
  for (let above = input.partOf, seen = new Set([id]); above; ) {
    if (seen.has(above))
      refuse('malformed', 'partOf', 'A zone cannot be part of itself, nor of a part of itself.')
    seen.add(above)
    const larger = await partOfZone(tx, organisationId, above)
    if (!larger) refuse('unknown', 'partOf', 'There is no such larger zone.')
    above = larger.partOf
  }
  return checkedAreaM2(tx, input.geometry)
}

function differences(stored: Zone, input: ZoneInput): string[] {
  const names = Object.keys(fieldWords) as (keyof typeof fieldWords)[]
  // What a change leaves out stays as it is.
  const said = names.filter((name) => input[name] !== undefined)
  const differ = said.filter((name) => !isDeepStrictEqual(rounded(stored[name]), rounded(input[name])))
  return [...new Set(differ.map((name) => fieldWords[name]))]
}

/** Coordinates come back from the database with nine decimals. */
const rounded = (value: unknown): unknown =>
  value == null
    ? null
    : JSON.parse(JSON.stringify(value, (_, v) => (typeof v === 'number' ? Number(v.toFixed(9)) : v)))

const dayOf = (deps: Deps, person: Person) => today(person.organisation.timeZone, deps.now())

/** Stores the jobs for what follows from a changed zone, within its transaction. */
const jobsFor = async (
  tx: Session,
  deps: Deps,
  { organisation, personId }: Person,
  near: Iterable<string>,
) => {
  const treeIds = [...near]
  const store = (kind: string) => deps.jobs.store(tx, organisation.id, kind, { treeIds }, personId)
  return { treeIds, jobIds: treeIds.length > 0 ? [await store('exposure'), await store('due')] : [] }
}

async function computeAnew(
  deps: Deps,
  { organisation }: Person,
  { treeIds, jobIds }: Awaited<ReturnType<typeof jobsFor>>,
) {
  for (const jobId of jobIds) await doSoon(deps, organisation.id, jobId, treeIds)
}
