import { randomUUID } from 'node:crypto'
import type { ImportKind, ImportState } from '@underbough/db'
import { findCrs, type RowVerdict, readTable, refusedAsCsv, type Table } from '@underbough/exchange'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { checkedMapping, namedColumns, suggested } from './mapping.ts'
import {
  batchById,
  countsByCode,
  insertBatch,
  jobOfBatch,
  latestBatches,
  moveBatch,
  pageOfRows,
  type RowFilter,
  refusedRows,
  wipeRows,
} from './queries.ts'
import { must } from './read.ts'

/** Largest file taken over the network, bytes. */
export const MAX_BYTES = 64 * 1024 * 1024
export const PAGE_ROWS = 100
const SAMPLES = 5

const openStates: ImportState[] = ['mapping', 'reading', 'ready', 'writing', 'failed']

/** Takes a file in, reads its table and suggests how to read it. Nothing of it is in the inventory yet. */
export async function beginImport(
  deps: Deps,
  person: Person,
  kind: ImportKind,
  fileName: string,
  file: Uint8Array,
  maxBytes = MAX_BYTES,
) {
  const read = readTable(file, fileName, { maxBytes })
  const table = must(read)
  if (kind !== 'trees' && table.format !== 'geojson')
    refuse(
      'file-not-this-format',
      'file',
      'Zones and ground are read from GeoJSON. Write the file in that format.',
    )
  const id = randomUUID()
  const notes = read.ok ? read.notes : []
  await insertBatch(deps.database.db, {
    organisationId: person.organisation.id,
    id,
    kind,
    fileName: fileName.slice(0, 200),
    file,
    columns: table.columns.map((column) => column.name),
    notes,
    madeBy: person.personId,
  })
  return { importId: id, table: { ...looks(table), notes }, ...suggested(kind, table, person.organisation) }
}

/** A table as far as a person needs to see it. */
function looks(table: Table) {
  const samples = (i: number) => [
    ...new Set(table.rows.slice(0, 200).map((row) => (row.cells[i] ?? '').slice(0, 80))),
  ]
  return {
    columns: table.columns.map(({ name }, i) => ({
      name,
      samples: samples(i).filter(Boolean).slice(0, SAMPLES),
    })),
    rows: table.rows.length,
    format: table.format,
    encoding: table.encoding,
    delimiter: table.delimiter,
    crs: table.crs,
  }
}

async function batchOf(deps: Deps, person: Person, id: string) {
  const batch = await batchById(deps.database.db, person.organisation.id, id)
  return batch ?? refuse('unknown', 'id', 'There is no such import.')
}

/** Reads the file by the mapping, as a job. May be asked for again with another mapping until it is written. */
export async function previewImport(deps: Deps, person: Person, id: string, given: unknown): Promise<string> {
  const batch = await batchOf(deps, person, id)
  const mapping = checkedMapping(batch.kind, given)
  const known = new Set(batch.columns)
  const missing = namedColumns(mapping).filter((column) => !known.has(column))
  if (missing.length > 0)
    throw new Refused(
      missing.map((column) => ({
        code: 'column-missing',
        path: `mapping.columns.${column}`,
        message: `The file has no column “${column}”.`,
      })),
    )
  must(await findCrs(mapping.crs))
  const { id: organisationId } = person.organisation
  const from: ImportState[] = ['mapping', 'ready', 'failed']
  return deps.jobs.startWith(
    organisationId,
    'import-read',
    { importId: id },
    person.personId,
    id,
    async (tx) => {
      if (!(await moveBatch(tx, organisationId, id, from, 'reading', { mapping, counts: {} })))
        refuse('conflict', 'state', `This import is ${batch.state}; it cannot be read now.`)
    },
  )
}

const noCounts = { rows: 0, taken: 0, noted: 0, refused: 0, new: 0, changed: 0, same: 0, gone: 0 }
const LISTED = 200

/** Lists that were taken in before, the latest first. */
export async function listImports(deps: Deps, { organisation }: Person) {
  const batches = await latestBatches(deps.database.db, organisation.id, LISTED)
  return batches.map((batch) => ({ ...batch, counts: { ...noCounts, ...batch.counts } }))
}

export async function importStatus(deps: Deps, person: Person, id: string) {
  const { db } = deps.database
  const batch = await batchOf(deps, person, id)
  const job = await jobOfBatch(db, person.organisation.id, id)
  return {
    importId: id,
    kind: batch.kind,
    fileName: batch.fileName,
    state: batch.state,
    mapping: batch.mapping,
    jobId: job?.id ?? null,
    progress: { done: job?.done ?? 0, total: job?.total ?? 0 },
    counts: { ...noCounts, ...batch.counts },
    byCode: await countsByCode(db, person.organisation.id, id),
    notes: batch.notes,
    refusal: batch.refusal,
    madeAt: batch.madeAt,
  }
}

export async function importRows(deps: Deps, person: Person, id: string, filter: RowFilter, page: number) {
  await batchOf(deps, person, id)
  const { rows, total } = await pageOfRows(
    deps.database.db,
    person.organisation.id,
    id,
    filter,
    PAGE_ROWS,
    (page - 1) * PAGE_ROWS,
  )
  return {
    rows: rows.map(({ line, verdict, change, notes, raw, sourceKey, record, differences }) => ({
      line: line > 0 ? line : null,
      verdict,
      change,
      notes,
      raw,
      sourceKey,
      record,
      differences: (differences ?? []).map(([field, from, to]) => ({ field, from, to })),
    })),
    total,
    page,
    pageRows: PAGE_ROWS,
  }
}

/** The refused rows as they came, with their reasons, to be mended and brought in again. */
export async function refusedCsv(deps: Deps, person: Person, id: string): Promise<string> {
  const batch = await batchOf(deps, person, id)
  const rows = await refusedRows(deps.database.db, person.organisation.id, id)
  return refusedAsCsv(
    rows.map(
      ({ line, verdict, notes, raw, sourceKey }): RowVerdict => ({
        line,
        verdict,
        notes,
        raw,
        sourceKey,
        tree: null,
      }),
    ),
    batch.columns,
  )
}

/** Writes what the preview showed, as a job, in one transaction. */
export async function commitImport(deps: Deps, person: Person, id: string): Promise<string> {
  const { id: organisationId } = person.organisation
  const batch = await batchOf(deps, person, id)
  const input = { importId: id, personId: person.personId }
  return deps.jobs.startWith(organisationId, 'import-write', input, person.personId, id, async (tx) => {
    if (!(await moveBatch(tx, organisationId, id, ['ready'], 'writing')))
      refuse(
        'conflict',
        'state',
        `This import is ${batch.state}; only one that has been read can be written.`,
      )
  })
}

/** Stops an import and leaves nothing of it but the fact that there was one. Refused once it is written. */
export async function cancelImport(deps: Deps, person: Person, id: string) {
  const { id: organisationId } = person.organisation
  const batch = await batchOf(deps, person, id)
  const job = await jobOfBatch(deps.database.db, organisationId, id)
  if (job && (job.state === 'waiting' || job.state === 'working'))
    await deps.jobs.cancel(organisationId, job.id)
  await deps.database.transaction(async (tx) => {
    if (!(await moveBatch(tx, organisationId, id, openStates, 'cancelled', { file: null, counts: {} })))
      refuse('conflict', 'state', `This import is ${batch.state} already. Its records are in the inventory.`)
    await wipeRows(tx, organisationId, id)
  })
}
