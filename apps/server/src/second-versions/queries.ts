import { type Session, tables } from '@underbough/db'
import type { SecondVersion, TreeInput } from '@underbough/model'
import { and, asc, eq } from 'drizzle-orm'

const { authUser, secondVersion } = tables
const columns = {
  id: secondVersion.id,
  kind: secondVersion.kind,
  subjectId: secondVersion.subjectId,
  fromVersion: secondVersion.fromVersion,
  offered: secondVersion.offered,
  personName: authUser.name,
  madeAt: secondVersion.madeAt,
  receivedAt: secondVersion.receivedAt,
  state: secondVersion.state,
  chosenBy: secondVersion.chosenBy,
  chosenAt: secondVersion.chosenAt,
}
const one = (organisationId: string, id: string) =>
  and(eq(secondVersion.organisationId, organisationId), eq(secondVersion.id, id))

/** Versions beside the stored ones, in the order in which they came. */
export async function secondVersions(
  session: Session,
  organisationId: string,
  openOnly: boolean,
): Promise<SecondVersion[]> {
  return session
    .select(columns)
    .from(secondVersion)
    .innerJoin(authUser, eq(authUser.id, secondVersion.personId))
    .where(
      and(
        eq(secondVersion.organisationId, organisationId),
        openOnly ? eq(secondVersion.state, 'open') : undefined,
      ),
    )
    .orderBy(asc(secondVersion.receivedAt), asc(secondVersion.id))
    .limit(500)
}

/** One of them, locked: two people who choose at once do so one after the other. */
export async function lockSecondVersion(session: Session, organisationId: string, id: string) {
  const [row] = await session.select().from(secondVersion).where(one(organisationId, id)).for('update')
  return row ?? null
}

export async function insertSecondVersion(session: Session, row: typeof secondVersion.$inferInsert) {
  await session.insert(secondVersion).values(row)
}

export async function closeSecondVersion(
  session: Session,
  organisationId: string,
  id: string,
  chosen: { chosenBy: string; chosenAt: string; replaced: TreeInput },
) {
  await session
    .update(secondVersion)
    .set({ ...chosen, state: 'chosen' })
    .where(one(organisationId, id))
}
