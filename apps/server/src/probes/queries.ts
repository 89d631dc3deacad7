import { type Session, tables } from '@underbough/db'
import type { Borders, BordersInput, CivilDate, Probe, ProbeInput, ProbeKind } from '@underbough/model'
import { and, asc, desc, eq, inArray, sql } from 'drizzle-orm'

const { authUser, probe, probeBorders, tree, visit } = tables

const entered = {
  id: probe.id,
  visitId: probe.visitId,
  kind: probe.kind,
  label: probe.label,
  heightM: probe.heightM,
  entryBearingDeg: probe.entryBearingDeg,
  directionDeg: probe.directionDeg,
  tiltDeg: probe.tiltDeg,
  instrument: probe.instrument,
  instrumentCondition: probe.instrumentCondition,
  operator: probe.operator,
  disinfected: probe.disinfected,
  reason: probe.reason,
  reading: probe.reading,
  note: probe.note,
}
const one = (organisationId: string, id: string) =>
  and(eq(probe.organisationId, organisationId), eq(probe.id, id))

type Entry = 'entryBearingDeg' | 'directionDeg' | 'tiltDeg'
/** A reading without an entry has no bearings at all, where its row has nulls. */
function withoutEmptyEntry<T extends Record<Entry, number | null>>(row: T) {
  const { entryBearingDeg, directionDeg, tiltDeg, ...rest } = row
  return entryBearingDeg === null ? rest : { ...rest, entryBearingDeg, directionDeg, tiltDeg: tiltDeg ?? 0 }
}

export async function visitExists(session: Session, organisationId: string, id: string): Promise<boolean> {
  const found = await session
    .select({ id: visit.id })
    .from(visit)
    .where(and(eq(visit.organisationId, organisationId), eq(visit.id, id)))
  return found.length > 0
}

export async function kindOf(
  session: Session,
  organisationId: string,
  id: string,
): Promise<ProbeKind | null> {
  const [row] = await session.select({ kind: probe.kind }).from(probe).where(one(organisationId, id))
  return row?.kind ?? null
}

/** Stores a reading unless one of this identifier is stored already; answers the one that is. */
export async function insertProbe(
  session: Session,
  organisationId: string,
  input: ProbeInput,
): Promise<ProbeInput> {
  await session
    .insert(probe)
    .values({ organisationId, ...input })
    .onConflictDoNothing()
  return (await probeInputById(session, organisationId, input.id))!
}

/** A reading as it was entered. */
export async function probeInputById(
  session: Session,
  organisationId: string,
  id: string,
): Promise<ProbeInput | null> {
  const [row] = await session.select(entered).from(probe).where(one(organisationId, id))
  return row ? (withoutEmptyEntry(row) as ProbeInput) : null
}

/** All readings of a tree, those of the newest visit first, each with its visit's day and person and its borders. */
export async function probesOfTree(
  session: Session,
  organisationId: string,
  treeId: string,
  timeZone: string,
): Promise<Probe[]> {
  const rows = await session
    .select({
      ...entered,
      treeId: visit.treeId,
      on: sql<CivilDate>`(${visit.startedAt} at time zone ${timeZone})::date::text`,
      personName: authUser.name,
    })
    .from(probe)
    .innerJoin(visit, and(eq(visit.organisationId, probe.organisationId), eq(visit.id, probe.visitId)))
    .innerJoin(authUser, eq(authUser.id, visit.personId))
    .where(and(eq(probe.organisationId, organisationId), eq(visit.treeId, treeId)))
    .orderBy(desc(visit.startedAt), visit.id, probe.label, probe.id)
  const borders = await bordersOf(
    session,
    organisationId,
    rows.map((row) => row.id),
  )
  return rows.map(
    (row) => ({ ...withoutEmptyEntry(row), borders: borders.get(row.id) ?? [] }) as unknown as Probe,
  )
}

/** Borders of each of these readings in the order they were accepted. */
async function bordersOf(
  session: Session,
  organisationId: string,
  probeIds: string[],
): Promise<Map<string, Borders[]>> {
  const out = new Map<string, Borders[]>()
  if (probeIds.length === 0) return out
  const rows = await session
    .select({ probeId: probeBorders.probeId, borders: bordersColumns })
    .from(probeBorders)
    .innerJoin(authUser, eq(authUser.id, probeBorders.personId))
    .where(and(eq(probeBorders.organisationId, organisationId), inArray(probeBorders.probeId, probeIds)))
    .orderBy(asc(probeBorders.entry))
  for (const { probeId, borders } of rows) out.set(probeId, [...(out.get(probeId) ?? []), borders])
  return out
}

const bordersColumns = {
  id: probeBorders.id,
  barkCm: probeBorders.barkCm,
  segments: probeBorders.segments,
  moved: probeBorders.moved,
  note: probeBorders.note,
  personId: probeBorders.personId,
  personName: authUser.name,
  at: probeBorders.at,
}

/** Adds borders unless some of this identifier are stored already; answers those that are, and whose they are. */
export async function insertBorders(
  session: Session,
  organisationId: string,
  probeId: string,
  input: BordersInput & { personId: string; at: string },
): Promise<{ probeId: string; borders: Borders }> {
  await session
    .insert(probeBorders)
    .values({ organisationId, probeId, ...input })
    .onConflictDoNothing()
  const [row] = await session
    .select({ probeId: probeBorders.probeId, borders: bordersColumns })
    .from(probeBorders)
    .innerJoin(authUser, eq(authUser.id, probeBorders.personId))
    .where(and(eq(probeBorders.organisationId, organisationId), eq(probeBorders.id, input.id)))
  return row!
}

/** A trace's text as it came, with what its file is named after. */
export async function rawTrace(
  session: Session,
  organisationId: string,
  id: string,
): Promise<{ raw: string; tag: string; label: string } | null> {
  const [row] = await session
    .select({ raw: sql<string | null>`${probe.reading} ->> 'raw'`, tag: tree.tag, label: probe.label })
    .from(probe)
    .innerJoin(visit, and(eq(visit.organisationId, probe.organisationId), eq(visit.id, probe.visitId)))
    .innerJoin(tree, and(eq(tree.organisationId, visit.organisationId), eq(tree.id, visit.treeId)))
    .where(and(one(organisationId, id), eq(probe.kind, 'drill-trace')))
  return row && row.raw !== null ? { ...row, raw: row.raw } : null
}
