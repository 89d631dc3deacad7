import { randomUUID } from 'node:crypto'
import { type PlanState, type Session, tables } from '@underbough/db'
import type { CivilDate } from '@underbough/model'
import type { DaySheet, RoundPlan } from '@underbough/rounds'
import { and, asc, desc, eq, inArray, isNotNull, isNull, sql } from 'drizzle-orm'

const { crew, daySheet, plan, site, stop, tree, treeState, unplaced } = tables
const noEnd = [isNull(stop.doneVisitId), isNull(stop.skippedBecause)]

/** Trees whose look is due by a date: their own, or the look that waits under a work. Work itself is no visit. */
export async function treesToLookAt(
  session: Session,
  organisationId: string,
  until: CivilDate,
  siteId: string | null,
) {
  const lookOn = sql<CivilDate>`case when ${treeState.dueKind} = 'work' then ${treeState.lookOn} else ${treeState.dueOn} end`
  return session
    .select({
      id: tree.id,
      longitude: sql<number>`ST_X(${tree.position})`,
      latitude: sql<number>`ST_Y(${tree.position})`,
      risk: treeState.risk,
      level: treeState.dueLevel,
      dueOn: lookOn,
    })
    .from(tree)
    .innerJoin(
      treeState,
      and(eq(treeState.organisationId, tree.organisationId), eq(treeState.treeId, tree.id)),
    )
    .where(
      and(
        eq(tree.organisationId, organisationId),
        inArray(tree.status, ['standing', 'pole']),
        sql`${lookOn} <= ${until}`,
        siteId ? eq(tree.siteId, siteId) : undefined,
      ),
    )
    .orderBy(tree.id)
}

export async function crewsById(session: Session, organisationId: string, ids: string[] | null) {
  return session
    .select()
    .from(crew)
    .where(and(eq(crew.organisationId, organisationId), ids ? inArray(crew.id, ids) : undefined))
    .orderBy(asc(crew.letter))
}

/** Mean way over straight line of the sites, or null without a site. */
export async function detourFactor(session: Session, organisationId: string): Promise<number | null> {
  const [row] = await session
    .select({ mean: sql<number | null>`avg(${site.detourFactor})::float8` })
    .from(site)
    .where(eq(site.organisationId, organisationId))
  return row?.mean ?? null
}

/** Trees on days sent to the crews, from a day on, whose stop has no end yet. */
export async function treesSent(session: Session, organisationId: string, from: CivilDate) {
  const rows = await session
    .select({ treeId: stop.treeId })
    .from(stop)
    .innerJoin(
      daySheet,
      and(eq(daySheet.organisationId, stop.organisationId), eq(daySheet.id, stop.daySheetId)),
    )
    .where(
      and(
        eq(stop.organisationId, organisationId),
        isNotNull(daySheet.publishedAt),
        sql`${daySheet.date} >= ${from}`,
        ...noEnd,
      ),
    )
  return new Set(rows.map((row) => row.treeId))
}

/** Day sheets issued already from a day on, with their stops that have no end yet. They stay as they are. */
export async function issuedSheets(
  session: Session,
  organisationId: string,
  from: CivilDate,
): Promise<DaySheet[]> {
  const sheets = await session
    .select()
    .from(daySheet)
    .where(
      and(
        eq(daySheet.organisationId, organisationId),
        isNotNull(daySheet.publishedAt),
        sql`${daySheet.date} >= ${from}`,
      ),
    )
  const stops = await stopsOf(
    session,
    organisationId,
    sheets.map((sheet) => sheet.id),
  )
  return sheets.map((sheet) => ({
    crewId: sheet.crewId,
    date: sheet.date,
    startMinute: sheet.startMinute,
    endMinute: sheet.endMinute,
    travelMinutes: sheet.travelMinutes,
    travelM: sheet.travelM,
    serviceMinutes: sheet.serviceMinutes,
    frozen: true,
    stops: stops
      .filter((s) => s.daySheetId === sheet.id && s.doneVisitId === null && s.skippedBecause === null)
      .map((s) => ({
        visitId: s.treeId,
        order: s.order,
        arriveMinute: s.arriveMinute,
        startMinute: s.startMinute,
        leaveMinute: s.leaveMinute,
        travelMinutes: 0,
        travelM: s.travelM,
      })),
  }))
}

/** What a person asked of a plan. */
export interface Asked {
  from: CivilDate
  days: number
  dueUntil: CivilDate
  crewIds: string[] | null
  siteId: string | null
  seed: number
  iterations: number
}

export async function insertPlan(
  session: Session,
  organisationId: string,
  id: string,
  asked: Asked,
  madeBy: string,
): Promise<number> {
  const [row] = await session
    .select({ last: sql<number>`coalesce(max(${plan.number}), 0)::int` })
    .from(plan)
    .where(eq(plan.organisationId, organisationId))
  const number = row!.last + 1
  await session.insert(plan).values({ organisationId, id, number, state: 'making', asked, madeBy })
  return number
}

/** Replaces the content of a plan by what was made; the same plan twice leaves the same rows. */
export async function storePlan(
  session: Session,
  organisationId: string,
  planId: string,
  made: RoundPlan,
  peerCost: RoundPlan['cost'],
  accruedRiskDays: number,
  levels: ReadonlyMap<string, 1 | 2 | 3>,
) {
  const ofPlan = eq(daySheet.planId, planId)
  await session.delete(daySheet).where(and(eq(daySheet.organisationId, organisationId), ofPlan))
  await session
    .delete(unplaced)
    .where(and(eq(unplaced.organisationId, organisationId), eq(unplaced.planId, planId)))
  for (const sheet of made.daySheets.filter((s) => !s.frozen && s.stops.length > 0)) {
    const id = randomUUID()
    await session.insert(daySheet).values({
      organisationId,
      id,
      planId,
      crewId: sheet.crewId,
      date: sheet.date,
      startMinute: Math.round(sheet.startMinute),
      endMinute: Math.round(sheet.endMinute),
      travelMinutes: sheet.travelMinutes,
      travelM: sheet.travelM,
      serviceMinutes: sheet.serviceMinutes,
    })
    await session.insert(stop).values(
      sheet.stops.map((s) => ({
        organisationId,
        id: randomUUID(),
        daySheetId: id,
        treeId: s.visitId,
        order: s.order,
        level: levels.get(s.visitId) ?? 2,
        arriveMinute: s.arriveMinute,
        startMinute: s.startMinute,
        leaveMinute: s.leaveMinute,
        travelM: s.travelM,
      })),
    )
  }
  const left = made.unplaced.map(({ visitId, code, message, addedCost }) => ({
    organisationId,
    planId,
    treeId: visitId,
    code,
    message,
    addedCost,
  }))
  for (let at = 0; at < left.length; at += 1000)
    await session.insert(unplaced).values(left.slice(at, at + 1000))
  await session
    .update(plan)
    .set({
      state: 'draft',
      cost: {
        ...made.cost,
        weights: made.weights,
        iterations: made.iterations,
        travelSource: made.travelSource,
        accruedRiskDays,
      },
      peerCost,
      methodVersion: made.methodVersion,
    })
    .where(and(eq(plan.organisationId, organisationId), eq(plan.id, planId)))
}

export async function deletePlan(session: Session, organisationId: string, id: string) {
  await session
    .delete(plan)
    .where(and(eq(plan.organisationId, organisationId), eq(plan.id, id), eq(plan.state, 'making')))
}

export async function plans(session: Session, organisationId: string) {
  return session
    .select()
    .from(plan)
    .where(eq(plan.organisationId, organisationId))
    .orderBy(desc(plan.number))
    .limit(50)
}

export async function planById(session: Session, organisationId: string, id: string) {
  const [row] = await session
    .select()
    .from(plan)
    .where(and(eq(plan.organisationId, organisationId), eq(plan.id, id)))
  if (!row) return null
  const sheets = await session
    .select()
    .from(daySheet)
    .where(and(eq(daySheet.organisationId, organisationId), eq(daySheet.planId, id)))
    .orderBy(asc(daySheet.date), asc(daySheet.crewId))
  const stops = await stopsOf(
    session,
    organisationId,
    sheets.map((sheet) => sheet.id),
  )
  const left = await session
    .select()
    .from(unplaced)
    .where(and(eq(unplaced.organisationId, organisationId), eq(unplaced.planId, id)))
  return { row, sheets, stops, left }
}

export async function stopsOf(session: Session, organisationId: string, sheetIds: string[]) {
  if (sheetIds.length === 0) return []
  return session
    .select()
    .from(stop)
    .where(and(eq(stop.organisationId, organisationId), inArray(stop.daySheetId, sheetIds)))
    .orderBy(asc(stop.order))
}

/** What of a plan's unsent days was sent already by another plan: a crew's day, or a tree from `today` on that has no end. */
export async function sentTwice(
  session: Session,
  organisationId: string,
  planId: string,
  dates: string[] | null,
  today: CivilDate,
) {
  const among = dates
    ? sql`and mine.date in (${sql.join(
        dates.map((date) => sql`${date}::date`),
        sql`, `,
      )})`
    : sql``
  const unsent = sql`${daySheet} mine where mine.organisation_id = ${organisationId} and mine.plan_id = ${planId}
    and mine.published_at is null ${among}`
  const days = (await session.execute(sql`
    select c.name, mine.date::text as date from ${crew} c, ${unsent} and c.organisation_id = mine.organisation_id and c.id = mine.crew_id
      and exists (select from ${daySheet} other where other.organisation_id = mine.organisation_id
        and other.crew_id = mine.crew_id and other.date = mine.date and other.published_at is not null)
    order by mine.date, c.letter limit 1`)) as unknown as { name: string; date: CivilDate }[]
  const trees = (await session.execute(sql`
    select t.tag from ${tree} t, ${stop} s, ${unsent} and s.organisation_id = mine.organisation_id and s.day_sheet_id = mine.id
      and t.organisation_id = s.organisation_id and t.id = s.tree_id
      and exists (select from ${stop} o join ${daySheet} other on other.organisation_id = o.organisation_id and other.id = o.day_sheet_id
        where o.organisation_id = s.organisation_id and o.tree_id = s.tree_id and other.published_at is not null
          and other.date >= ${today} and o.done_visit_id is null and o.skipped_because is null)
    order by t.tag limit 1`)) as unknown as { tag: string }[]
  return { day: days[0] ?? null, tag: trees[0]?.tag ?? null }
}

export async function planExists(session: Session, organisationId: string, id: string): Promise<boolean> {
  const rows = await session
    .select({ id: plan.id })
    .from(plan)
    .where(and(eq(plan.organisationId, organisationId), eq(plan.id, id)))
    .for('update')
  return rows.length > 0
}

/** Issues day sheets: all of the plan, or those of the named dates. Answers how many. */
export async function publishSheets(
  session: Session,
  organisationId: string,
  planId: string,
  dates: string[] | null,
  now: Date,
): Promise<number> {
  const rows = await session
    .update(daySheet)
    .set({ publishedAt: now.toISOString() })
    .where(
      and(
        eq(daySheet.organisationId, organisationId),
        eq(daySheet.planId, planId),
        isNull(daySheet.publishedAt),
        dates ? inArray(daySheet.date, dates) : undefined,
      ),
    )
    .returning({ id: daySheet.id })
  if (rows.length > 0) await setPlanState(session, organisationId, planId, 'published')
  return rows.length
}

async function setPlanState(session: Session, organisationId: string, id: string, state: PlanState) {
  await session
    .update(plan)
    .set({ state })
    .where(and(eq(plan.organisationId, organisationId), eq(plan.id, id)))
}

/** The issued sheets of a day for these crews, the earliest sent first. */
export async function sheetsOfDay(
  session: Session,
  organisationId: string,
  crewIds: string[],
  date: CivilDate,
) {
  if (crewIds.length === 0) return []
  return session
    .select()
    .from(daySheet)
    .where(
      and(
        eq(daySheet.organisationId, organisationId),
        inArray(daySheet.crewId, crewIds),
        eq(daySheet.date, date),
        isNotNull(daySheet.publishedAt),
      ),
    )
    .orderBy(asc(daySheet.publishedAt), asc(daySheet.id))
}

/** The first day on or after a date for which these crews have an issued sheet. */
export async function nextSheetDate(
  session: Session,
  organisationId: string,
  crewIds: string[],
  from: CivilDate,
): Promise<CivilDate | null> {
  if (crewIds.length === 0) return null
  const [row] = await session
    .select({ date: sql<CivilDate | null>`min(${daySheet.date})::text` })
    .from(daySheet)
    .where(
      and(
        eq(daySheet.organisationId, organisationId),
        inArray(daySheet.crewId, crewIds),
        isNotNull(daySheet.publishedAt),
        sql`${daySheet.date} >= ${from}`,
      ),
    )
  return row?.date ?? null
}

export async function stopById(session: Session, organisationId: string, id: string) {
  const [row] = await session
    .select({ stop, publishedAt: daySheet.publishedAt })
    .from(stop)
    .innerJoin(
      daySheet,
      and(eq(daySheet.organisationId, stop.organisationId), eq(daySheet.id, stop.daySheetId)),
    )
    .where(and(eq(stop.organisationId, organisationId), eq(stop.id, id)))
  return row ?? null
}

export async function endStop(
  session: Session,
  organisationId: string,
  id: string,
  end: { doneVisitId: string | null; skippedBecause: string | null },
) {
  await session
    .update(stop)
    .set(end)
    .where(and(eq(stop.organisationId, organisationId), eq(stop.id, id)))
}
