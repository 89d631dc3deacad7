import { type Session, tables } from '@underbough/db'
import type { FailureInput, Position, WalkOverInput } from '@underbough/model'
import { and, arrayContains, desc, eq, inArray, sql } from 'drizzle-orm'

const { authUser, failure, tree, treeEvent, walkOver, zone } = tables

const failureColumns = {
  id: failure.id,
  treeId: failure.treeId,
  place: sql<Position | null>`case when ${failure.place} is null then null else json_build_array(ST_X(${failure.place}), ST_Y(${failure.place})) end`,
  on: failure.on,
  part: failure.part,
  gustMps: failure.gustMps,
  hit: failure.hit,
  nearMiss: failure.nearMiss,
  note: failure.note,
}

export async function failuresOfTree(
  session: Session,
  organisationId: string,
  treeId: string,
): Promise<FailureInput[]> {
  return session
    .select(failureColumns)
    .from(failure)
    .where(and(eq(failure.organisationId, organisationId), eq(failure.treeId, treeId)))
    .orderBy(desc(failure.on))
}

export async function allFailures(session: Session, organisationId: string): Promise<FailureInput[]> {
  return session
    .select(failureColumns)
    .from(failure)
    .where(eq(failure.organisationId, organisationId))
    .orderBy(desc(failure.on))
    .limit(2000)
}

/** Stores a failure unless one of this identifier is stored already; answers the one that is. */
export async function insertFailure(
  session: Session,
  organisationId: string,
  input: FailureInput,
): Promise<FailureInput> {
  const { place, ...rest } = input
  await session
    .insert(failure)
    .values({ organisationId, ...rest, place: place && { type: 'Point', coordinates: place } })
    .onConflictDoNothing()
  const [row] = await session
    .select(failureColumns)
    .from(failure)
    .where(and(eq(failure.organisationId, organisationId), eq(failure.id, input.id)))
  return row!
}

export interface EventRow {
  id: string
  kind: string
  on: string
  lookWithinDays: number
  note: string
}

export async function eventsOfTree(
  session: Session,
  organisationId: string,
  treeId: string,
): Promise<EventRow[]> {
  return session
    .select({
      id: treeEvent.id,
      kind: treeEvent.kind,
      on: treeEvent.on,
      lookWithinDays: treeEvent.lookWithinDays,
      note: treeEvent.note,
    })
    .from(treeEvent)
    .where(and(eq(treeEvent.organisationId, organisationId), eq(treeEvent.treeId, treeId)))
    .orderBy(desc(treeEvent.on))
}

/** Stores an event unless one of this identifier is stored already; answers the one that is. */
export async function insertEvent(
  session: Session,
  organisationId: string,
  event: EventRow & { treeId: string },
) {
  await session
    .insert(treeEvent)
    .values({ organisationId, ...event })
    .onConflictDoNothing()
  const [row] = await session
    .select()
    .from(treeEvent)
    .where(and(eq(treeEvent.organisationId, organisationId), eq(treeEvent.id, event.id)))
  return row!
}

/** False where this walk-over is on record already. */
export async function insertWalkOver(
  session: Session,
  organisationId: string,
  personId: string,
  input: WalkOverInput,
): Promise<boolean> {
  const rows = await session
    .insert(walkOver)
    .values({ organisationId, personId, ...input })
    .onConflictDoNothing()
    .returning({ id: walkOver.id })
  return rows.length > 0
}

/** How many of these trees there are. */
export async function countTrees(session: Session, organisationId: string, ids: readonly string[]) {
  return ids.length === 0
    ? 0
    : session.$count(tree, and(eq(tree.organisationId, organisationId), inArray(tree.id, [...ids])))
}

/** Walk-overs at which a tree was looked at, the newest first, with the note made on it. */
export async function walkOversOfTree(session: Session, organisationId: string, treeId: string) {
  const rows = await session
    .select({
      id: walkOver.id,
      on: walkOver.on,
      zoneId: walkOver.zoneId,
      zoneName: zone.name,
      personName: authUser.name,
      notes: walkOver.notes,
    })
    .from(walkOver)
    .innerJoin(zone, and(eq(zone.organisationId, walkOver.organisationId), eq(zone.id, walkOver.zoneId)))
    .innerJoin(authUser, eq(authUser.id, walkOver.personId))
    .where(and(eq(walkOver.organisationId, organisationId), arrayContains(walkOver.treeIds, [treeId])))
    .orderBy(desc(walkOver.on))
  return rows.map(({ notes, ...row }) => ({
    ...row,
    note: notes.find((one) => one.treeId === treeId)?.note ?? '',
  }))
}
