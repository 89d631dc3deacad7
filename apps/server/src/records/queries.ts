import { type Session, tables } from '@underbough/db'
import type { FailureInput, Position, WalkOverInput } from '@underbough/model'
import { and, desc, eq, sql } from 'drizzle-orm'

const { failure, treeEvent, walkOver } = tables

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

export async function insertFailure(session: Session, organisationId: string, input: FailureInput) {
  const { place, ...rest } = input
  await session
    .insert(failure)
    .values({ organisationId, ...rest, place: place && { type: 'Point', coordinates: place } })
    .onConflictDoNothing()
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

export async function insertEvent(session: Session, organisationId: string, treeId: string, event: EventRow) {
  await session
    .insert(treeEvent)
    .values({ organisationId, treeId, ...event })
    .onConflictDoNothing()
}

export async function insertWalkOver(
  session: Session,
  organisationId: string,
  personId: string,
  input: WalkOverInput,
) {
  await session
    .insert(walkOver)
    .values({ organisationId, personId, ...input })
    .onConflictDoNothing()
}
