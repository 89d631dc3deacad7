import { type Session, tables } from '@underbough/db'
import type { Work, WorkInput } from '@underbough/model'
import { and, asc, eq } from 'drizzle-orm'

const { work } = tables
const columns = {
  id: work.id,
  treeId: work.treeId,
  visitId: work.visitId,
  kind: work.kind,
  description: work.description,
  dueOn: work.dueOn,
  cost: work.cost,
  residualRisk: work.residualRisk,
  state: work.state,
  doneOn: work.doneOn,
  doneBy: work.doneBy,
  decision: work.decision,
}
const one = (organisationId: string, id: string) =>
  and(eq(work.organisationId, organisationId), eq(work.id, id))

export async function worksOfTree(session: Session, organisationId: string, treeId: string): Promise<Work[]> {
  return session
    .select(columns)
    .from(work)
    .where(and(eq(work.organisationId, organisationId), eq(work.treeId, treeId)))
    .orderBy(asc(work.dueOn))
}

export async function allWorks(session: Session, organisationId: string): Promise<Work[]> {
  return session
    .select(columns)
    .from(work)
    .where(eq(work.organisationId, organisationId))
    .orderBy(asc(work.dueOn))
    .limit(5000)
}

export async function workById(session: Session, organisationId: string, id: string): Promise<Work | null> {
  const [row] = await session.select(columns).from(work).where(one(organisationId, id)).for('update')
  return row ?? null
}

/** Stores a proposed work; the same one twice is stored once. */
export async function insertWork(session: Session, organisationId: string, input: WorkInput) {
  await session
    .insert(work)
    .values({ organisationId, ...input, state: 'proposed' })
    .onConflictDoNothing()
}

export async function updateWork(
  session: Session,
  organisationId: string,
  id: string,
  set: Partial<Pick<Work, 'state' | 'doneOn' | 'doneBy' | 'decision' | 'dueOn'>>,
) {
  await session.update(work).set(set).where(one(organisationId, id))
}
