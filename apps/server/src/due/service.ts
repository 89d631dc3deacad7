import type { Session } from '@underbough/db'
import { type Due, daysBetween, type Organisation, type Rating, today } from '@underbough/model'
import {
  baselineShares,
  dueInputOf,
  dueOf,
  type Policy,
  readPolicy,
  startingPolicy,
} from '@underbough/rating'
import * as queries from './queries.ts'

/** The policy in force: the newest edition stored, or the starting one. Throws on a stored policy that cannot be read. */
export async function policyOf(session: Session, organisationId: string): Promise<Policy> {
  const stored = await queries.newestPolicy(session, organisationId)
  if (stored === undefined) return startingPolicy
  const read = readPolicy(stored)
  if (!read.ok) throw new Error(`The stored policy cannot be read: ${read.refusals[0]!.message}`)
  return read.value
}

const byTree = <T extends { treeId: string }>(rows: T[]) => {
  const groups = new Map<string, T[]>()
  for (const row of rows) {
    const group = groups.get(row.treeId)
    if (group) group.push(row)
    else groups.set(row.treeId, [row])
  }
  return groups
}

/**
 * Recomputes due dates and what else follows from a tree's records, for the named trees or for all (`null`), and stores them.
 * Idempotent: the same records give the same rows.
 */
export async function recomputeDue(session: Session, organisation: Organisation, treeIds: string[] | null) {
  if (treeIds?.length === 0) return
  const { id: organisationId, timeZone, hemisphere } = organisation
  const policy = await policyOf(session, organisationId)
  const trees = await queries.dueTrees(session, organisationId, treeIds)
  const looksOf = byTree(await queries.dueLooks(session, organisationId, treeIds, timeZone))
  const rated = await queries.dueRatings(session, organisationId, treeIds)
  const ratings = byTree(rated)
  const works = byTree(await queries.dueWorks(session, organisationId, treeIds, timeZone))
  const events = byTree(await queries.dueEvents(session, organisationId, treeIds))
  const words = await queries.zoneWords(session, organisationId, treeIds && zonesNamed(rated))
  // One tree keeps the place it was given among all; places are given anew only when all are read. A limited look does not
  // take a tree off the ramp.
  const shares = new Map(trees.map((tree) => [tree.id, tree.baselineShare]))
  if (treeIds === null)
    for (const [id, share] of baselineShares(
      trees.filter((tree) => !hasBasicLook(looksOf.get(tree.id))).map(unseenTree),
    ))
      shares.set(id, share)
  const rows = trees.map((tree): queries.TreeStateRow => {
    const looks = looksOf.get(tree.id) ?? []
    const closed = looks.filter((visit) => visit.closed)
    const stored = ratings.get(tree.id) ?? []
    const done = works.get(tree.id) ?? []
    const share = shares.get(tree.id) ?? null
    return {
      treeId: tree.id,
      risk: stored[0]?.risk ?? null,
      seen: closed.length > 0,
      lastVisitOn:
        closed
          .map((visit) => visit.on)
          .sort()
          .at(-1) ?? null,
      ratingOpen: stored[0] ? stored[0].reopenedBecause !== null : closed.some((look) => !look.walkOver),
      baselineShare: share,
      due: dueOf(
        dueInputOf({
          treeId: tree.id,
          status: tree.status,
          enteredOn: tree.enteredOn,
          hemisphere,
          looks,
          ratingsNewestFirst: stored.map((rating) => ({
            rating,
            on: today(timeZone, new Date(rating.ratedAt)),
          })),
          works: done,
          events: events.get(tree.id) ?? [],
          zoneUse: tree.zoneUse,
          stemDiameterCm: tree.stemDiameterCm,
          baselineShare: share,
          occupancyOf: (id) => words.get(id) ?? null,
        }),
        policy,
      ),
    }
  })
  await queries.storeStates(session, organisationId, rows)
}

const zonesNamed = (ratings: readonly Pick<Rating, 'scenarios'>[]) => [
  ...new Set(
    ratings.flatMap(({ scenarios }) =>
      scenarios.flatMap(({ targets }) => targets.flatMap(({ zoneId }) => zoneId ?? [])),
    ),
  ),
]

const hasBasicLook = (looks: { level: number; closed: boolean }[] | undefined) =>
  looks?.some((visit) => visit.closed && visit.level >= 2) ?? false

const unseenTree = (tree: queries.DueTree) => ({
  treeId: tree.id,
  importedOn: tree.enteredOn,
  zoneUse: tree.zoneUse,
  stemDiameterCm: tree.stemDiameterCm,
})

/** Days past the due date today, 0 while in time. */
export const overdueDays = (due: Pick<Due, 'on'> | null, day: string) =>
  due ? Math.max(0, daysBetween(due.on, day)) : 0
