import { type Session, tables } from '@underbough/db'
import type { Finding, Rating, Visit, VisitInput } from '@underbough/model'
import { and, count, desc, eq, gt, inArray, sql } from 'drizzle-orm'

const { authUser, finding, rating, stop, daySheet, visit, tree, zone } = tables

const columns = {
  id: visit.id,
  treeId: visit.treeId,
  level: visit.level,
  startedAt: visit.startedAt,
  endedAt: visit.endedAt,
  weather: visit.weather,
  leafState: visit.leafState,
  assignment: visit.assignment,
  steps: visit.steps,
  couldNotSee: visit.couldNotSee,
  positionAccuracyM: visit.positionAccuracyM,
  stage: visit.stage,
  personId: visit.personId,
  personName: authUser.name,
  closedAt: visit.closedAt,
  clockOffsetMs: visit.clockOffsetMs,
}

async function withFindings(
  session: Session,
  organisationId: string,
  rows: Omit<Visit, 'findings'>[],
  treeId?: string,
): Promise<Visit[]> {
  const one =
    rows.length === 1 ? eq(finding.visitId, rows[0]!.id) : treeId ? eq(finding.treeId, treeId) : undefined
  const found: Finding[] =
    rows.length === 0
      ? []
      : await session
          .select({
            id: finding.id,
            visitId: finding.visitId,
            treeId: finding.treeId,
            step: finding.step,
            kind: finding.kind,
            heightM: finding.heightM,
            bearingDeg: finding.bearingDeg,
            extent: finding.extent,
            note: finding.note,
          })
          .from(finding)
          .where(and(eq(finding.organisationId, organisationId), one))
  return rows.map((row) => ({ ...row, findings: found.filter((f) => f.visitId === row.id) }))
}

/** All visits of a tree, the latest first. */
export async function visitsOfTree(
  session: Session,
  organisationId: string,
  treeId: string,
): Promise<Visit[]> {
  const rows = await session
    .select(columns)
    .from(visit)
    .innerJoin(authUser, eq(authUser.id, visit.personId))
    .where(and(eq(visit.organisationId, organisationId), eq(visit.treeId, treeId)))
    .orderBy(desc(visit.startedAt))
  return withFindings(session, organisationId, rows, treeId)
}

/** Closed visits of every tree as heads, the latest first, with their rating's word where they have one. */
export async function latestVisits(session: Session, organisationId: string, limit: number) {
  const heads = await session
    .select({
      id: visit.id,
      treeId: visit.treeId,
      level: visit.level,
      startedAt: visit.startedAt,
      closedAt: visit.closedAt,
      couldNotSee: visit.couldNotSee,
      personName: authUser.name,
    })
    .from(visit)
    .innerJoin(authUser, eq(authUser.id, visit.personId))
    .where(and(eq(visit.organisationId, organisationId), eq(visit.stage, 'closed')))
    .orderBy(desc(visit.closedAt), visit.id)
    .limit(limit)
  const ids = heads.map((head) => head.id)
  const found = await session
    .select({ visitId: finding.visitId, findings: count() })
    .from(finding)
    .where(and(eq(finding.organisationId, organisationId), inArray(finding.visitId, ids)))
    .groupBy(finding.visitId)
  const rated = await session
    .select({ visitId: rating.visitId, risk: rating.risk })
    .from(rating)
    .where(and(eq(rating.organisationId, organisationId), inArray(rating.visitId, ids)))
  const findings = new Map(found.map((row) => [row.visitId, row.findings]))
  const risks = new Map(rated.map((row) => [row.visitId, row.risk]))
  return heads.map((head) => ({
    ...head,
    findings: findings.get(head.id) ?? 0,
    risk: risks.get(head.id) ?? null,
  }))
}

export async function visitById(session: Session, organisationId: string, id: string): Promise<Visit | null> {
  const rows = await session
    .select(columns)
    .from(visit)
    .innerJoin(authUser, eq(authUser.id, visit.personId))
    .where(and(eq(visit.organisationId, organisationId), eq(visit.id, id)))
  return (await withFindings(session, organisationId, rows))[0] ?? null
}

/** Writes a visit and its findings, new or in the place of the same person's draft. */
export async function storeVisit(
  session: Session,
  organisationId: string,
  personId: string,
  input: VisitInput,
  kept: Pick<Visit, 'stage' | 'closedAt' | 'clockOffsetMs'>,
) {
  const { findings, ...fields } = input
  const row = { ...fields, personId, ...kept }
  await session
    .insert(visit)
    .values({ organisationId, ...row })
    .onConflictDoUpdate({ target: [visit.organisationId, visit.id], set: row })
  await session
    .delete(finding)
    .where(and(eq(finding.organisationId, organisationId), eq(finding.visitId, input.id)))
  if (findings.length > 0)
    await session
      .insert(finding)
      .values(
        findings.map((found) => ({ organisationId, visitId: input.id, treeId: input.treeId, ...found })),
      )
}

const ratingColumns = {
  id: rating.id,
  treeId: rating.treeId,
  visitId: rating.visitId,
  timeFrameYears: rating.timeFrameYears,
  changeRate: rating.changeRate,
  scenarios: rating.scenarios,
  overrideRisk: rating.overrideRisk,
  overrideReason: rating.overrideReason,
  residualRisk: rating.residualRisk,
  personName: authUser.name,
  ratedAt: rating.ratedAt,
  worst: rating.worst,
  computedRisk: rating.computedRisk,
  risk: rating.risk,
  matricesEdition: rating.matricesEdition,
  policyEdition: rating.policyEdition,
  methodVersion: rating.methodVersion,
  reopenedBecause: rating.reopenedBecause,
}

/** All ratings of a tree, the one in force first. */
export async function ratingsOfTree(
  session: Session,
  organisationId: string,
  treeId: string,
): Promise<Rating[]> {
  return session
    .select(ratingColumns)
    .from(rating)
    .innerJoin(authUser, eq(authUser.id, rating.personId))
    .where(and(eq(rating.organisationId, organisationId), eq(rating.treeId, treeId)))
    .orderBy(desc(rating.ratedAt), desc(rating.id))
}

export async function ratingOfVisit(
  session: Session,
  organisationId: string,
  visitId: string,
): Promise<Rating | null> {
  const [row] = await session
    .select(ratingColumns)
    .from(rating)
    .innerJoin(authUser, eq(authUser.id, rating.personId))
    .where(and(eq(rating.organisationId, organisationId), eq(rating.visitId, visitId)))
  return row ?? null
}

export async function insertRating(
  session: Session,
  organisationId: string,
  personId: string,
  row: Omit<Rating, 'personName'>,
) {
  await session.insert(rating).values({ organisationId, personId, ...row })
}

/** Marks the stop of a published day that this visit was for, if there is one without an end. */
export async function markStop(
  session: Session,
  organisationId: string,
  treeId: string,
  visitId: string,
  on: string,
) {
  await session.execute(sql`
    update ${stop} set done_visit_id = ${visitId}
    where organisation_id = ${organisationId} and tree_id = ${treeId} and done_visit_id is null and skipped_because is null
      and day_sheet_id in (select id from ${daySheet} where organisation_id = ${organisationId} and published_at is not null and date = ${on})`)
}

/** Those of the zones that somebody has changed since they were drawn. */
export async function changedZones(session: Session, organisationId: string, ids: string[]) {
  if (ids.length === 0) return []
  return session
    .select({ id: zone.id, name: zone.name, changedAt: zone.updatedAt })
    .from(zone)
    .where(and(eq(zone.organisationId, organisationId), inArray(zone.id, ids), gt(zone.version, 1)))
}

/** The tree's row, locked until the transaction ends: two visits of one tree close one after the other. */
export async function lockTree(session: Session, organisationId: string, treeId: string): Promise<boolean> {
  const rows = await session
    .select({ id: tree.id })
    .from(tree)
    .where(and(eq(tree.organisationId, organisationId), eq(tree.id, treeId)))
    .for('update')
  return rows.length > 0
}
