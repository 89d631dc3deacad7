import { type Session, tables } from '@underbough/db'
import {
  type CivilDate,
  combinedDiameterCm,
  type Due,
  type Position,
  type RiskWord,
  type Tree,
  type TreeInput,
} from '@underbough/model'
import { and, asc, desc, eq, ilike, inArray, or, type SQL, sql } from 'drizzle-orm'
import { isOpen, type Narrowing } from '../tiles/narrowing.ts'
import { type Days, passing } from '../tiles/queries.ts'

const { tree, treeMark, treeState } = tables
/** Nothing is overdue before the first day. */
const noDays: Days = { day: '1970-01-01', elsewhere: [] }

const position = sql<Position>`json_build_array(ST_X(${tree.position}), ST_Y(${tree.position}))`
const mine = (organisationId: string, id: string) =>
  and(eq(tree.organisationId, organisationId), eq(tree.id, id))
const ofState = and(eq(treeState.organisationId, tree.organisationId), eq(treeState.treeId, tree.id))

/** One line about a tree, for lists, sheets and the map's leaf. */
export interface TreeLine {
  id: string
  tag: string
  species: string
  commonName: string | null
  position: Position
  status: Tree['status']
  heightM: number | null
  stemDiameterCm: number | null
  siteId: string | null
  risk: RiskWord | null
  seen: boolean
  ratingOpen: boolean
  due: Due | null
}

const line = {
  id: tree.id,
  tag: tree.tag,
  species: tree.species,
  commonName: tree.commonName,
  position,
  status: tree.status,
  heightM: tree.heightM,
  stemDiameterCm: tree.stemDiameterCm,
  siteId: tree.siteId,
  risk: treeState.risk,
  seen: treeState.seen,
  ratingOpen: treeState.ratingOpen,
  state: {
    on: treeState.dueOn,
    kind: treeState.dueKind,
    level: treeState.dueLevel,
    reason: treeState.dueReason,
    outOfSeason: treeState.outOfSeason,
    lookOn: treeState.lookOn,
    policyEdition: treeState.policyEdition,
  },
}

// biome-ignore lint/suspicious/noExplicitAny: the row type of a select with nested groups is not expressible here
function asLine(row: any): TreeLine {
  const { state, ...rest } = row
  return {
    ...rest,
    seen: rest.seen ?? false,
    ratingOpen: rest.ratingOpen ?? false,
    due: state?.on
      ? {
          treeId: rest.id,
          ...state,
          level: state.level ?? 2,
          reason: state.reason ?? '',
          policyEdition: state.policyEdition ?? '',
        }
      : null,
  }
}

const lines = (session: Session) => session.select(line).from(tree).leftJoin(treeState, ofState).$dynamic()

export interface TreeFilter {
  q?: string
  ids?: string[]
  narrowing?: Narrowing
  /** The days by which what is overdue is told; needed where the narrowing asks for it. */
  days?: Days
  limit: number
  offset: number
}

function matching(organisationId: string, filter: Omit<TreeFilter, 'limit' | 'offset'>): SQL | undefined {
  const { siteId, dueFrom, dueUntil, ...rest } = filter.narrowing ?? {}
  const like = filter.q ? `%${filter.q.replace(/[%_\\]/g, '\\$&')}%` : null
  return and(
    eq(tree.organisationId, organisationId),
    like ? or(ilike(tree.tag, like), ilike(tree.species, like), ilike(tree.commonName, like)) : undefined,
    filter.ids ? inArray(tree.id, filter.ids) : undefined,
    siteId ? eq(tree.siteId, siteId) : undefined,
    dueFrom ? sql`${treeState.dueOn} >= ${dueFrom}` : undefined,
    dueUntil ? sql`${treeState.dueOn} <= ${dueUntil}` : undefined,
    // The rest as the map's tiles narrow, so that list and map agree.
    isOpen(rest)
      ? undefined
      : sql`exists (select from ${treeMark} m where m.organisation_id = ${tree.organisationId} and m.tree_id = ${tree.id}
          and ${passing(rest, filter.days ?? noDays)})`,
  )
}

/** Lines in order of tag, or of due date where the filter names dates. */
export async function findTrees(
  session: Session,
  organisationId: string,
  { limit, offset, ...filter }: TreeFilter,
) {
  const where = matching(organisationId, filter)
  const byDate = filter.narrowing?.dueFrom || filter.narrowing?.dueUntil
  const rows = await lines(session)
    .where(where)
    .orderBy(byDate ? asc(treeState.dueOn) : asc(tree.tag), asc(tree.id))
    .limit(limit)
    .offset(offset)
  const [count] = await session
    .select({ total: sql<number>`count(*)::int` })
    .from(tree)
    .leftJoin(treeState, ofState)
    .where(where)
  return { trees: rows.map(asLine), total: count!.total }
}

export async function treeLines(
  session: Session,
  organisationId: string,
  ids: string[],
): Promise<Map<string, TreeLine>> {
  const found = new Map<string, TreeLine>()
  for (let at = 0; at < ids.length; at += 2000) {
    const rows = await lines(session).where(
      and(eq(tree.organisationId, organisationId), inArray(tree.id, ids.slice(at, at + 2000))),
    )
    for (const row of rows) found.set(row.id, asLine(row))
  }
  return found
}

/** The due date of one tree with the rules behind it. */
export async function dueById(session: Session, organisationId: string, treeId: string) {
  const [row] = await session
    .select()
    .from(treeState)
    .where(and(eq(treeState.organisationId, organisationId), eq(treeState.treeId, treeId)))
  return row
}

export async function treeById(session: Session, organisationId: string, id: string): Promise<Tree | null> {
  const { organisationId: _o, stemDiameterCm: _s, enteredOn: _e, position: _p, ...columns } = tableColumns
  const [row] = await session
    .select({ ...columns, position })
    .from(tree)
    .where(mine(organisationId, id))
  return (row as Tree | undefined) ?? null
}
const tableColumns = {
  organisationId: tree.organisationId,
  id: tree.id,
  siteId: tree.siteId,
  tag: tree.tag,
  species: tree.species,
  commonName: tree.commonName,
  position: tree.position,
  positionAccuracyM: tree.positionAccuracyM,
  stems: tree.stems,
  stemDiameterCm: tree.stemDiameterCm,
  group: tree.group,
  heightM: tree.heightM,
  crownBaseHeightM: tree.crownBaseHeightM,
  crownRadiiM: tree.crownRadiiM,
  lean: tree.lean,
  clearingBearingDeg: tree.clearingBearingDeg,
  slope: tree.slope,
  deadOrBrittle: tree.deadOrBrittle,
  owner: tree.owner,
  protections: tree.protections,
  powerLinesNear: tree.powerLinesNear,
  status: tree.status,
  goneOn: tree.goneOn,
  plantedYear: tree.plantedYear,
  note: tree.note,
  sourceKey: tree.sourceKey,
  enteredOn: tree.enteredOn,
  version: tree.version,
  createdAt: tree.createdAt,
  updatedAt: tree.updatedAt,
}

/** A tree's columns from its record. */
export function treeColumns(input: TreeInput) {
  return {
    ...input,
    position: { type: 'Point', coordinates: input.position },
    stemDiameterCm:
      input.stems.length > 0 ? combinedDiameterCm(input.stems.map((stem) => stem.diameterCm)) : null,
  }
}

export async function insertTree(
  session: Session,
  organisationId: string,
  id: string,
  input: TreeInput,
  enteredOn: CivilDate,
) {
  await session.insert(tree).values({ organisationId, id, enteredOn, ...treeColumns(input) })
}

/** Writes the tree if nobody changed it since `version`; false otherwise. */
export async function updateTree(
  session: Session,
  organisationId: string,
  id: string,
  version: number,
  input: TreeInput,
): Promise<boolean> {
  const rows = await session
    .update(tree)
    .set({ ...treeColumns(input), version: version + 1, updatedAt: sql`now()` as never })
    .where(and(mine(organisationId, id), eq(tree.version, version)))
    .returning({ id: tree.id })
  return rows.length > 0
}

export async function tagTaken(
  session: Session,
  organisationId: string,
  tag: string,
  exceptId: string | null,
): Promise<boolean> {
  const rows = await session
    .select({ id: tree.id })
    .from(tree)
    .where(and(eq(tree.organisationId, organisationId), eq(tree.tag, tag)))
    .orderBy(desc(tree.createdAt))
    .limit(2)
  return rows.some((row) => row.id !== exceptId)
}
