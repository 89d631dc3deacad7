import type { Session } from '@underbough/db'
import { type ClosingInput, type RatingInput, today, type VisitInput } from '@underbough/model'
import { methodVersion, missingToClose, type RatedTree } from '@underbough/rating'
import { zoneWords } from '../due/queries.ts'
import { policyOf, recomputeDue } from '../due/service.ts'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { treeLines } from '../trees/queries.ts'
import { keepNote } from '../urgent-notes/service.ts'
import { insertWork } from '../works/queries.ts'
import { changedMeanwhile, judged, withProposals } from './close.ts'
import * as queries from './queries.ts'

/** When something came from a device, by the office's time, and what its times were put right by. */
export interface FromDevice {
  madeAt: string
  /** Added to the device's times before they came here; 0 where its clock was near enough. */
  putRightMs: number
}

/** Keeps a visit as a draft, however incomplete. Storing it twice stores it once. */
export async function keepDraft(
  deps: Deps,
  person: Person,
  input: VisitInput,
  from: FromDevice | null = null,
) {
  await deps.database.transaction(async (tx) => {
    await mayWrite(tx, person, input)
    if ((await queries.visitById(tx, person.organisation.id, input.id))?.stage === 'closed')
      refuse('visit-closed', 'id')
    await queries.storeVisit(tx, person.organisation.id, person.personId, input, {
      stage: 'draft',
      closedAt: null,
      clockOffsetMs: from?.putRightMs ?? null,
    })
  })
  return (await queries.visitById(deps.database.db, person.organisation.id, input.id))!
}

/**
 * Closes a visit with its rating, works and urgent note in one transaction, and dates the next look. Refused while a step is
 * unanswered, without an assignment, without a scenario or target, and without the urgent note where it is urgent.
 * Sending the same closing again changes nothing and answers the same. The rating counts from when the tree was looked at, not from
 * when the visit came here.
 */
export async function closeVisit(
  deps: Deps,
  person: Person,
  closing: ClosingInput,
  from: FromDevice | null = null,
) {
  const { organisation, personId } = person
  const now = deps.now().toISOString()
  const answered = await deps.database.transaction(async (tx) => {
    const before = await mayWrite(tx, person, closing.visit)
    const stored = await queries.visitById(tx, organisation.id, closing.visit.id)
    if (stored?.stage === 'closed') return { again: true, before: null }
    const rated = await checked(tx, organisation.id, closing, from !== null)
    await queries.storeVisit(tx, organisation.id, personId, closing.visit, {
      stage: 'closed',
      closedAt: now,
      clockOffsetMs: from?.putRightMs ?? null,
    })
    if (rated) await storeRating(tx, person, { ...rated, ratedAt: earlier(now, closing.visit.endedAt) })
    for (const work of closing.works)
      await insertWork(tx, organisation.id, {
        ...work,
        treeId: closing.visit.treeId,
        visitId: closing.visit.id,
      })
    if (closing.urgentNote)
      await keepNote(
        tx,
        person,
        { ...closing.urgentNote, treeId: closing.visit.treeId, visitId: closing.visit.id },
        earlier(now, from?.madeAt ?? null),
      )
    await queries.markStop(
      tx,
      organisation.id,
      closing.visit.treeId,
      closing.visit.id,
      today(organisation.timeZone, new Date(closing.visit.startedAt)),
    )
    await recomputeDue(tx, organisation, [closing.visit.treeId])
    return { again: false, before }
  })
  const { db } = deps.database
  const line = (await treeLines(db, organisation.id, [closing.visit.treeId])).get(closing.visit.treeId)
  return {
    visit: (await queries.visitById(db, organisation.id, closing.visit.id))!,
    rating: await queries.ratingOfVisit(db, organisation.id, closing.visit.id),
    due: line?.due ?? null,
    before: answered.before,
  }
}

/** Locks the tree and makes sure that this person may write this visit; answers the due date as it stood. */
async function mayWrite(tx: Session, person: Person, input: VisitInput) {
  const organisationId = person.organisation.id
  if (!(await queries.lockTree(tx, organisationId, input.treeId)))
    refuse('unknown', 'treeId', 'There is no such tree.')
  const stored = await queries.visitById(tx, organisationId, input.id)
  if (stored && (stored.treeId !== input.treeId || stored.personId !== person.personId))
    refuse('conflict', 'id', 'Another visit bears this identifier. Nothing was written.')
  return (await treeLines(tx, organisationId, [input.treeId])).get(input.treeId)?.due ?? null
}

async function checked(tx: Session, organisationId: string, closing: ClosingInput, onItsWay: boolean) {
  const missing = missingToClose(closing.visit)
  if (!closing.rating) {
    if (missing.length > 0) throw new Refused(missing)
    return null
  }
  const given = { ...closing.rating, treeId: closing.visit.treeId, visitId: closing.visit.id }
  const zoneIds = given.scenarios.flatMap((one) => one.targets.flatMap((target) => target.zoneId ?? []))
  const words = await zoneWords(tx, organisationId, zoneIds)
  const changed = onItsWay ? await queries.changedZones(tx, organisationId, zoneIds) : []
  const meanwhile = changedMeanwhile(given, closing.visit.endedAt, changed, words)
  for (const id of meanwhile?.ids ?? []) words.delete(id)
  const input = withProposals(given, words)
  const result = judged(input, closing.urgentNote)
  if ('refusals' in result) throw new Refused([...result.refusals, ...missing])
  if (missing.length > 0) throw new Refused(missing)
  return { input, rated: result.rated, reopenedBecause: meanwhile?.because ?? null }
}

const earlier = (now: string, at: string | null) =>
  at !== null && Date.parse(at) < Date.parse(now) ? at : now

async function storeRating(
  tx: Session,
  person: Person,
  {
    input,
    rated,
    ...stated
  }: { input: RatingInput; rated: RatedTree; ratedAt: string; reopenedBecause: string | null },
) {
  const policy = await policyOf(tx, person.organisation.id)
  await queries.insertRating(tx, person.organisation.id, person.personId, {
    ...input,
    ...stated,
    worst: rated.worst,
    computedRisk: rated.computedRisk,
    risk: rated.risk,
    matricesEdition: rated.matricesEdition,
    policyEdition: policy.edition,
    methodVersion,
  })
}
