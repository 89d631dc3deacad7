import { type CivilDate, type Organisation, today } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import type { JobContext } from '../jobs/jobs.ts'
import { anyTouched, settleCells, settleZones, takeTouched } from './settle-queries.ts'

/** As many marks as a reader waits for; the rest is a job's. */
const MARKS_AT_ONCE = 4000
const MARKS_A_STEP = 20_000

/** First day of the month that it is at the organisation. */
export const monthOf = (organisation: Organisation, now: Date): CivilDate =>
  `${today(organisation.timeZone, now).slice(0, 7)}-01`

/** One step: reckons anew what some marks name, and keeps how it stands in this month, in one transaction. Answers how many marks named something. */
async function step(deps: Deps, organisation: Organisation, limit: number): Promise<number> {
  const month = monthOf(organisation, deps.now())
  return deps.database.transaction(async (tx) => {
    const { zoneIds, cells } = await takeTouched(tx, organisation.id, limit)
    if (zoneIds.length > 0) await settleZones(tx, organisation.id, zoneIds, month)
    if (cells.length > 0) await settleCells(tx, organisation.id, cells, month)
    return zoneIds.length + cells.length
  })
}

/**
 * Brings the ranking up to date before it is read: what a few edits touched at once; what a whole pass touched by a job.
 * Answers whether a job is still at it, so that the list may be a little behind.
 */
export async function settleForReading(
  deps: Deps,
  { organisation, personId }: Pick<Person, 'organisation' | 'personId'>,
): Promise<{ behind: boolean }> {
  const { db } = deps.database
  if (!(await anyTouched(db, organisation.id))) return { behind: false }
  await step(deps, organisation, MARKS_AT_ONCE)
  if (!(await anyTouched(db, organisation.id))) return { behind: false }
  const open = await deps.jobs.open(organisation.id)
  if (!open.some((job) => job.kind === 'hotspots'))
    await deps.jobs.start(organisation.id, 'hotspots', {}, personId)
  return { behind: true }
}

/** Reckons anew all that was touched, in steps that each commit whole: may be begun again. */
export async function settleAll(deps: Deps, organisation: Organisation, job?: JobContext) {
  let done = 0
  while (await anyTouched(deps.database.db, organisation.id)) {
    done += await step(deps, organisation, MARKS_A_STEP)
    await job?.progress(done, done + 1)
  }
}
