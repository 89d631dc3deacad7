import { type Session, tables } from '@underbough/db'
import { and, asc, eq, inArray, sql } from 'drizzle-orm'

const { crew, daySheet, plan, stop, tree } = tables

/** A day sheet with its crew, its row locked until the transaction ends; null where there is none. */
export async function lockSheet(session: Session, organisationId: string, id: string) {
  const [sheet] = await session
    .select()
    .from(daySheet)
    .where(and(eq(daySheet.organisationId, organisationId), eq(daySheet.id, id)))
    .for('update')
  if (!sheet) return null
  const [its] = await session
    .select()
    .from(crew)
    .where(and(eq(crew.organisationId, organisationId), eq(crew.id, sheet.crewId)))
  return { sheet, crew: its! }
}
export type LockedSheet = NonNullable<Awaited<ReturnType<typeof lockSheet>>>

/** The row of a sheet's plan, locked: two hand-overs in one plan come one after the other, so that they make one sheet and never wait for each other. */
export async function lockPlanOf(session: Session, organisationId: string, sheetId: string) {
  const its = session
    .select({ id: daySheet.planId })
    .from(daySheet)
    .where(and(eq(daySheet.organisationId, organisationId), eq(daySheet.id, sheetId)))
  await session
    .select({ id: plan.id })
    .from(plan)
    .where(and(eq(plan.organisationId, organisationId), inArray(plan.id, its)))
    .for('update')
}

export async function insertSheet(
  session: Session,
  organisationId: string,
  row: Omit<typeof daySheet.$inferInsert, 'organisationId'>,
) {
  await session.insert(daySheet).values({ organisationId, ...row })
}

/** The stops of a sheet in their order, each with its tree's tag and place. */
export async function stopsInHand(session: Session, organisationId: string, sheetId: string) {
  return session
    .select({
      stop,
      tag: tree.tag,
      longitude: sql<number>`ST_X(${tree.position})`,
      latitude: sql<number>`ST_Y(${tree.position})`,
    })
    .from(stop)
    .innerJoin(tree, and(eq(tree.organisationId, stop.organisationId), eq(tree.id, stop.treeId)))
    .where(and(eq(stop.organisationId, organisationId), eq(stop.daySheetId, sheetId)))
    .orderBy(asc(stop.order), asc(stop.id))
}
export type StopRow = Awaited<ReturnType<typeof stopsInHand>>[number]

export async function stopsById(session: Session, organisationId: string, ids: string[]) {
  return session
    .select()
    .from(stop)
    .where(and(eq(stop.organisationId, organisationId), inArray(stop.id, ids)))
}

export async function treeExists(session: Session, organisationId: string, id: string): Promise<boolean> {
  const rows = await session
    .select({ id: tree.id })
    .from(tree)
    .where(and(eq(tree.organisationId, organisationId), eq(tree.id, id)))
  return rows.length > 0
}

export async function insertStop(
  session: Session,
  organisationId: string,
  row: Omit<typeof stop.$inferInsert, 'organisationId'>,
) {
  await session.insert(stop).values({ organisationId, ...row })
}

export async function changeStop(
  session: Session,
  organisationId: string,
  id: string,
  change: Partial<
    Pick<
      typeof stop.$inferInsert,
      | 'daySheetId'
      | 'order'
      | 'arriveMinute'
      | 'startMinute'
      | 'leaveMinute'
      | 'travelM'
      | 'fromCrewId'
      | 'handedBecause'
    >
  >,
) {
  await session
    .update(stop)
    .set(change)
    .where(and(eq(stop.organisationId, organisationId), eq(stop.id, id)))
}

export async function changeSheet(
  session: Session,
  organisationId: string,
  id: string,
  change: Partial<
    Pick<
      typeof daySheet.$inferInsert,
      'startMinute' | 'endMinute' | 'travelMinutes' | 'travelM' | 'serviceMinutes'
    >
  >,
) {
  await session
    .update(daySheet)
    .set(change)
    .where(and(eq(daySheet.organisationId, organisationId), eq(daySheet.id, id)))
}
