import type { Session } from '@underbough/db'
import { type groundFeatureInput, type TreeInput, today, type ZoneInput } from '@underbough/model'
import type { z } from 'zod'
import type { Deps } from '../http/context.ts'
import { Cancelled, type JobContext } from '../jobs/jobs.ts'
import { organisationById } from '../session/queries.ts'
import { reopenRatings } from '../zones/queries.ts'
import { batchById, moveBatch, rowsToWrite, type StoredRow, wipeRows } from './queries.ts'
import {
  insertGround,
  insertTrees,
  insertZones,
  updateGroundShape,
  updateTreeFields,
  updateZoneShape,
} from './write-queries.ts'

const CHUNK_ROWS = 500
/** More trees than this are not named one by one: all are computed anew. */
const NAMED_TREES = 2000
const FAULT = 'The program failed; nothing was written. Try again, and tell the officer if it stays.'
type GroundInput = z.infer<typeof groundFeatureInput>

/** What the writing of one kind of record needs; `touched` collects trees. */
interface Writing {
  tx: Session
  organisationId: string
  day: string
  touched: string[]
}

/**
 * Writes an import in one transaction, all or nothing; begun again after its process died, it does the same or finds it done.
 * Nothing is deleted: what is gone from the file stays stored.
 */
export async function writeImport(
  deps: Deps,
  importId: string,
  personId: string,
  job: JobContext,
): Promise<string> {
  const { organisationId } = job
  const batch = await batchById(deps.database.db, organisationId, importId)
  if (!batch || (batch.state !== 'writing' && batch.state !== 'done')) return 'There was nothing to write.'
  let touched: string[] | null = null
  if (batch.state === 'writing') {
    const { timeZone } = await organisationById(deps.database.db, organisationId)
    const total = (batch.counts.new ?? 0) + (batch.counts.changed ?? 0)
    const progress = { done: 0 }
    const tick = tellProgress(job, progress, total)
    try {
      touched = await deps.database.transaction(async (tx) => {
        const writing: Writing = { tx, organisationId, day: today(timeZone, deps.now()), touched: [] }
        await writeRows(writing, batch.kind, importId, job, progress)
        if (!(await moveBatch(tx, organisationId, importId, ['writing'], 'done', { file: null })))
          throw new Cancelled()
        return writing.touched
      })
    } catch (error) {
      if (error instanceof Cancelled) {
        await leave(deps, organisationId, importId)
        throw error
      }
      const refusal = { code: 'internal-fault', path: '', message: FAULT } as const
      await moveBatch(deps.database.db, organisationId, importId, ['writing'], 'failed', { refusal })
      // Without the statement and its thousands of values.
      throw new Error(FAULT, { cause: (error as Error).cause ?? error })
    } finally {
      clearInterval(tick)
    }
    await job.progress(total, total)
  }
  await computeAnew(deps, organisationId, personId, batch.kind, touched)
  return `${batch.counts.new ?? 0} new, ${batch.counts.changed ?? 0} changed.`
}

async function leave(deps: Deps, organisationId: string, importId: string) {
  await moveBatch(deps.database.db, organisationId, importId, ['writing', 'ready'], 'cancelled', {
    file: null,
  })
  await wipeRows(deps.database.db, organisationId, importId)
}

/** Started outside the transaction, so that it may use the database where it has a connection to spare. */
function tellProgress(job: JobContext, progress: { done: number }, total: number) {
  let busy = false
  return setInterval(() => {
    if (busy) return
    busy = true
    void job
      .progress(progress.done, total, 'Writing')
      .catch(() => {})
      .finally(() => {
        busy = false
      })
  }, 500)
}

async function writeRows(
  writing: Writing,
  kind: 'trees' | 'zones' | 'ground',
  importId: string,
  job: JobContext,
  progress: { done: number },
) {
  const { fresh, changed } = writers[kind]
  for (const change of ['new', 'changed'] as const)
    for (let after = 0; ; ) {
      if (job.cancelled()) throw new Cancelled()
      const rows = await rowsToWrite(writing.tx, writing.organisationId, importId, change, after, CHUNK_ROWS)
      if (rows.length === 0) break
      after = rows.at(-1)!.line
      if (change === 'new') await fresh(writing, rows)
      else for (const row of rows) await changed(writing, row)
      progress.done += rows.length
    }
}

const keyed = <T>(rows: StoredRow[]) =>
  rows.map(({ record, sourceKey }) => ({ record: record as T, sourceKey }))

const writers = {
  trees: {
    async fresh({ tx, organisationId, day, touched }: Writing, rows: StoredRow[]) {
      touched.push(...(await insertTrees(tx, organisationId, day, keyed<TreeInput>(rows))))
    },
    async changed({ tx, organisationId, touched }: Writing, row: StoredRow) {
      const fields = row.differences!.map(([field]) => field)
      touched.push(
        ...(await updateTreeFields(tx, organisationId, row.sourceKey!, row.record as TreeInput, fields)),
      )
    },
  },
  zones: {
    async fresh({ tx, organisationId }: Writing, rows: StoredRow[]) {
      await insertZones(tx, organisationId, keyed<ZoneInput>(rows))
    },
    async changed({ tx, organisationId, day }: Writing, row: StoredRow) {
      const record = row.record as ZoneInput
      const id = await updateZoneShape(tx, organisationId, row.sourceKey!, record)
      if (id && row.differences!.some(([field]) => field === 'geometry'))
        await reopenRatings(
          tx,
          organisationId,
          id,
          `The zone “${record.name}” changed on ${day}: outline, by an import.`,
        )
    },
  },
  ground: {
    async fresh({ tx, organisationId }: Writing, rows: StoredRow[]) {
      await insertGround(tx, organisationId, keyed<GroundInput>(rows))
    },
    async changed({ tx, organisationId }: Writing, row: StoredRow) {
      await updateGroundShape(tx, organisationId, row.sourceKey!, row.record as GroundInput)
    },
  },
}

/** Dates are given to all, since a new tree's place in the first-look ramp depends on the others. */
async function computeAnew(
  deps: Deps,
  organisationId: string,
  personId: string,
  kind: 'trees' | 'zones' | 'ground',
  touched: string[] | null,
) {
  if (kind === 'ground' || (touched?.length === 0 && kind === 'trees')) return
  const treeIds = kind === 'trees' && touched && touched.length <= NAMED_TREES ? touched : null
  await deps.jobs.start(organisationId, 'due', { treeIds: null }, personId)
  await deps.jobs.start(organisationId, 'exposure', { treeIds }, personId)
}
