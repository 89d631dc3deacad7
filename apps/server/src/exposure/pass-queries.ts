import { type Session, tables } from '@underbough/db'
import { and, eq, sql } from 'drizzle-orm'

const { exposureTile, job, treeMark } = tables

export interface Tile {
  level: number
  place: number
}
const ofJob = (organisationId: string, jobId: string) =>
  and(eq(exposureTile.organisationId, organisationId), eq(exposureTile.jobId, jobId))

/** How many trees stand in each square of this level that holds any. */
export async function treesBySquare(session: Session, organisationId: string, level: number) {
  const rows = await session.execute<{ place: string; trees: number }>(sql`
    select (place >> ${sql.raw(String(2 * (30 - level)))})::text as place, count(*)::int as trees
    from ${treeMark} where organisation_id = ${organisationId} group by 1`)
  return [...rows].map(({ place, trees }) => ({ place: Number(place), trees }))
}

/** Stores the squares of a pass; nothing where another process has done so. */
export async function insertTiles(
  session: Session,
  organisationId: string,
  jobId: string,
  tiles: readonly (Tile & { trees: number })[],
) {
  for (let at = 0; at < tiles.length; at += 1000)
    await session
      .insert(exposureTile)
      .values(tiles.slice(at, at + 1000).map((tile) => ({ organisationId, jobId, ...tile })))
      .onConflictDoNothing()
}

export const hasTiles = async (session: Session, organisationId: string, jobId: string) =>
  (await session.$count(exposureTile, ofJob(organisationId, jobId))) > 0

/** Takes a square that nobody works on, or whose claim is older than `staleS`, while the job is not stopped. Chosen apart, or the planner may choose again for each row. */
export async function claimTile(
  session: Session,
  organisationId: string,
  jobId: string,
  claimedBy: string,
  staleS: number,
): Promise<Tile | undefined> {
  const rows = await session.execute<Tile & Record<string, unknown>>(sql`
    with next as materialized (
      select level, place from ${exposureTile}
      where organisation_id = ${organisationId} and job_id = ${jobId}
        and (state = 'waiting' or (state = 'working' and claimed_at < now() - make_interval(secs => ${staleS})))
        and exists (select from ${job} j where j.organisation_id = ${organisationId} and j.id = ${jobId} and j.state = 'working')
      order by level, place limit 1 for update skip locked
    )
    update ${exposureTile} t set state = 'working', claimed_by = ${claimedBy}, claimed_at = now()
    from next where t.organisation_id = ${organisationId} and t.job_id = ${jobId} and t.level = next.level and t.place = next.place
    returning t.level, t.place::float8 as place`)
  return rows[0]
}

/** Says that whoever claimed is alive. */
export async function markClaims(session: Session, organisationId: string, jobId: string, claimedBy: string) {
  await session
    .update(exposureTile)
    .set({ claimedAt: sql`now()` as never })
    .where(
      and(
        ofJob(organisationId, jobId),
        eq(exposureTile.state, 'working'),
        eq(exposureTile.claimedBy, claimedBy),
      ),
    )
}

/** False where the claim is no longer this one's. */
export async function finishTile(
  session: Session,
  organisationId: string,
  jobId: string,
  claimedBy: string,
  { level, place }: Tile,
  changed: number,
): Promise<boolean> {
  const rows = await session
    .update(exposureTile)
    .set({ state: 'done', changed })
    .where(
      and(
        ofJob(organisationId, jobId),
        eq(exposureTile.level, level),
        eq(exposureTile.place, place),
        eq(exposureTile.state, 'working'),
        eq(exposureTile.claimedBy, claimedBy),
      ),
    )
    .returning({ level: exposureTile.level })
  return rows.length > 0
}

/** Trees done and in all, trees computed anew, and squares not done. */
export async function passState(session: Session, organisationId: string, jobId: string) {
  const [row] = await session.execute<{ done: number; total: number; changed: number; open: number }>(sql`
    select coalesce(sum(trees) filter (where state = 'done'), 0)::int as done, coalesce(sum(trees), 0)::int as total,
      coalesce(sum(changed), 0)::int as changed, count(*) filter (where state <> 'done')::int as open
    from ${exposureTile} where organisation_id = ${organisationId} and job_id = ${jobId}`)
  return row!
}

export async function deleteTiles(session: Session, organisationId: string, jobId: string) {
  await session.delete(exposureTile).where(ofJob(organisationId, jobId))
}

/** Claims of a process that cannot live any more: the embedded database has one process at a time. */
export async function giveUpClaims(session: Session, organisationId: string, jobId: string) {
  await session
    .update(exposureTile)
    .set({ state: 'waiting' })
    .where(and(ofJob(organisationId, jobId), eq(exposureTile.state, 'working')))
}

/** Passes that have squares to claim. */
export async function openPasses(session: Session): Promise<{ organisationId: string; jobId: string }[]> {
  return session
    .selectDistinct({ organisationId: exposureTile.organisationId, jobId: exposureTile.jobId })
    .from(exposureTile)
    .innerJoin(
      job,
      and(
        eq(job.organisationId, exposureTile.organisationId),
        eq(job.id, exposureTile.jobId),
        eq(job.state, 'working'),
      ),
    )
    .where(eq(exposureTile.state, 'waiting'))
}
