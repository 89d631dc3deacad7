import { randomUUID } from 'node:crypto'
import type { Session } from '@underbough/db'
import type { FoundTreeInput } from '@underbough/model'
import { weekday } from '@underbough/model'
import type { Handle, When } from '../entries/handle.ts'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { crewsById, sheetsOfDay } from '../plans/queries.ts'
import * as queries from './queries.ts'
import { hasEnd, minuteOf, reckon } from './reckon.ts'

/** Why a stop of a tree that nobody had on record stands on a day. */
export const foundBecause = 'Not on record until it was found on the way.'

/** The issued sheet, locked, for a person who may change it: a member of its crew, or an officer. */
async function openSheet(tx: Session, person: Person, daySheetId: string): Promise<queries.LockedSheet> {
  const found =
    (await queries.lockSheet(tx, person.organisation.id, daySheetId)) ??
    refuse('unknown', 'daySheetId', 'There is no such day.')
  if (!found.sheet.publishedAt)
    refuse('conflict', 'daySheetId', 'This day has not been sent to the crews yet.')
  if (person.role !== 'officer' && !found.crew.memberIds.includes(person.personId))
    refuse('forbidden', 'daySheetId', `This is the day of ${found.crew.name}; you are not of that crew.`)
  return found
}

async function putOn(
  tx: Session,
  person: Person,
  input: { stopId: string; daySheetId: string; treeId: string; level: 1 | 2 | 3; because: string },
  when: When,
) {
  const { id: organisationId } = person.organisation
  const day = await openSheet(tx, person, input.daySheetId)
  const [known] = await queries.stopsById(tx, organisationId, [input.stopId])
  if (known) {
    if (known.treeId !== input.treeId)
      refuse('conflict', 'stopId', 'Another stop bears this identifier. Nothing was written.')
    return { stopId: known.id }
  }
  if (!(await queries.treeExists(tx, organisationId, input.treeId)))
    refuse('unknown', 'treeId', 'There is no such tree.')
  const stops = await queries.stopsInHand(tx, organisationId, day.sheet.id)
  const unknown = { arriveMinute: 0, startMinute: 0, leaveMinute: 0, travelM: 0 }
  await queries.insertStop(tx, organisationId, {
    id: input.stopId,
    daySheetId: day.sheet.id,
    treeId: input.treeId,
    level: input.level,
    addedBecause: input.because,
    order: stops.length + 1,
    ...unknown,
  })
  await reckon(tx, organisationId, day, [], minuteOf(person.organisation, when, day.sheet.date))
  return { stopId: input.stopId }
}

/** A tree of the inventory comes onto an issued day as its last open stop, with the crew's reason. Repeated, it changes nothing. */
export const stopAdded: Handle<'stop-added'> = (deps, author, body, when) =>
  deps.database.transaction((tx) => putOn(tx, author, body, when))

/** The stop of a tree found on the way; the tree is on record already, in the same transaction. Nothing where no stop was asked for. */
export async function foundStop(
  deps: Deps,
  author: Person,
  { stop }: Pick<FoundTreeInput, 'stop'>,
  treeId: string,
  when: When,
) {
  if (!stop) return null
  const { id: stopId, daySheetId, level } = stop
  return deps.database.transaction((tx) =>
    putOn(tx, author, { stopId, daySheetId, level, treeId, because: foundBecause }, when),
  )
}

/** The order in which a crew goes to its open stops, with the clock reckoned anew. What has an end stays where it is; the answer names it. */
export const dayOrder: Handle<'day-order'> = (deps, author, body, when) =>
  deps.database.transaction(async (tx) => {
    const { id: organisationId } = author.organisation
    const day = await openSheet(tx, author, body.daySheetId)
    const rows = await queries.stopsInHand(tx, organisationId, day.sheet.id)
    const wanted = new Set(body.stopIds)
    await reckon(tx, organisationId, day, body.stopIds, minuteOf(author.organisation, when, day.sheet.date))
    return {
      notMoved: rows
        .filter((row) => wanted.has(row.stop.id) && hasEnd(row))
        .map(({ stop, tag }) => ({ stopId: stop.id, tag })),
      notHere: body.stopIds.filter((id) => !rows.some((row) => row.stop.id === id)),
    }
  })

/** The other crew's issued sheet of the day, locked; made in the same plan where it has none. */
async function sheetOfOther(
  tx: Session,
  organisationId: string,
  from: queries.LockedSheet,
  other: Awaited<ReturnType<typeof crewsById>>[number],
  now: Date,
): Promise<queries.LockedSheet> {
  const { planId, date, startMinute } = from.sheet
  const [known] = await sheetsOfDay(tx, organisationId, [other.id], date)
  const id = known?.id ?? randomUUID()
  if (!known)
    await queries.insertSheet(tx, organisationId, {
      id,
      planId,
      crewId: other.id,
      date,
      startMinute: other.hours[weekday(date)]?.fromMinute ?? startMinute,
      endMinute: startMinute,
      travelMinutes: 0,
      travelM: 0,
      serviceMinutes: 0,
      publishedAt: now.toISOString(),
    })
  return (await queries.lockSheet(tx, organisationId, id))!
}

/** Open stops go to another crew's day of the same date, behind its own, with the reason. What has an end stays; the answer names it. Repeated, it changes nothing. */
export const handOver: Handle<'hand-over'> = (deps, author, body, when) =>
  deps.database.transaction(async (tx) => {
    const { id: organisationId } = author.organisation
    await queries.lockPlanOf(tx, organisationId, body.daySheetId)
    const from = await openSheet(tx, author, body.daySheetId)
    const [other] = await crewsById(tx, organisationId, [body.toCrewId])
    if (!other) refuse('unknown', 'toCrewId', 'There is no such crew.')
    if (other.id === from.crew.id) refuse('conflict', 'toCrewId', 'These stops are with this crew already.')
    const rows = await queries.stopsInHand(tx, organisationId, from.sheet.id)
    const wanted = rows.filter((row) => body.stopIds.includes(row.stop.id))
    const open = body.stopIds.flatMap((id) => wanted.filter((row) => row.stop.id === id && !hasEnd(row)))
    const tooDeep = open.filter((row) => row.stop.level > other.level)
    if (tooDeep.length > 0)
      refuse(
        'conflict',
        'toCrewId',
        `${other.name} does not make looks of the level asked at ${tooDeep.map((row) => row.tag).join(', ')}. Nothing was handed over.`,
      )
    const notMoved = wanted.filter(hasEnd).map(({ stop, tag }) => ({ stopId: stop.id, tag }))
    if (open.length === 0) {
      const gone = await queries.stopsById(tx, organisationId, body.stopIds)
      if (gone.length === 0) refuse('unknown', 'stopIds', 'None of these stops is on this day.')
      return { handedOver: [], notMoved }
    }
    const to = await sheetOfOther(tx, organisationId, from, other, deps.now())
    const theirs = await queries.stopsInHand(tx, organisationId, to.sheet.id)
    for (const [i, { stop }] of open.entries())
      await queries.changeStop(tx, organisationId, stop.id, {
        daySheetId: to.sheet.id,
        order: theirs.length + i + 1,
        fromCrewId: from.crew.id,
        handedBecause: body.because,
      })
    const minute = minuteOf(author.organisation, when, from.sheet.date)
    await reckon(tx, organisationId, from, [], minute)
    await reckon(tx, organisationId, to, [], minute)
    return { handedOver: open.map((row) => row.stop.id), notMoved }
  })
