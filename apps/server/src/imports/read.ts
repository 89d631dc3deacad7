import {
  compareWithStored,
  type Difference,
  type FeatureReading,
  type GroundMapping,
  type RowVerdict,
  readGround,
  readTable,
  readTreesInSteps,
  readZones,
  type TreeReading,
} from '@underbough/exchange'
import type {
  GroundGeometry,
  Outcome,
  Position,
  Refusal,
  TreeMapping,
  Verdict,
  ZoneMapping,
} from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { Refused } from '../http/problem.ts'
import { Cancelled, type JobContext } from '../jobs/jobs.ts'
import { batchById, fileOf, heldState, type ImportRow, insertRows, moveBatch, wipeRows } from './queries.ts'
import { shapeFaults, storedShapes, storedTags, storedTrees } from './stored.ts'

const CHUNK_ROWS = 500
/** Stored trees this far beyond a file's own extent are another district's and not gone from it, degrees (Assumption: about 250 m). */
const GONE_MARGIN_DEG = 0.0025

interface Read {
  rows: ImportRow[]
  notes: Refusal[]
}

/**
 * Reads the file of an import into rows with a verdict and a change each. Begins by wiping, so that it may be begun again
 * at any time; a cancelled or failed reading leaves no row.
 */
export async function readImport(deps: Deps, importId: string, job: JobContext): Promise<string> {
  const { db } = deps.database
  const { organisationId } = job
  const batch = await batchById(db, organisationId, importId)
  if (batch?.state !== 'reading') return 'There was nothing to read.'
  try {
    await wipeRows(db, organisationId, importId)
    const bytes = await fileOf(db, organisationId, importId)
    if (!bytes) throw new Cancelled()
    const { rows, notes } =
      batch.kind === 'trees'
        ? await treeRows(deps, bytes, batch.fileName, batch.mapping as TreeMapping, job)
        : await shapeRows(deps, bytes, batch.kind, batch.mapping as ZoneMapping, job)
    await storeRows(deps, importId, rows, job)
    const counts = countsOf(rows)
    if (
      !(await moveBatch(db, organisationId, importId, ['reading'], 'ready', { counts, notes, refusal: null }))
    )
      throw new Cancelled()
    return `${counts.taken! + counts.noted!} rows taken, ${counts.refused} refused.`
  } catch (error) {
    await wipeRows(db, organisationId, importId)
    if (!(error instanceof Cancelled)) {
      const refusal: Refusal =
        error instanceof Refused
          ? error.refusals[0]!
          : { code: 'internal-fault', path: '', message: 'The file could not be read; nothing was written.' }
      await moveBatch(db, organisationId, importId, ['reading'], 'failed', { refusal })
    }
    throw error
  }
}

/** The value of an outcome, or its refusals thrown. */
export function must<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value
  throw new Refused(outcome.refusals)
}

const breathe = () => new Promise((resolve) => setImmediate(resolve))

async function treeRows(
  deps: Deps,
  bytes: Uint8Array,
  fileName: string,
  mapping: TreeMapping,
  job: JobContext,
): Promise<Read> {
  const table = must(readTable(bytes, fileName))
  const steps = readTreesInSteps(table, mapping)
  let reading: TreeReading
  for (;;) {
    const step = await steps.next()
    if (step.done) {
      reading = must(step.value)
      break
    }
    // Reading counts for two passes over the rows, storing for a third.
    await job.progress(step.value.rowsDone, (step.value.rowsTotal / 2) * 3, 'Reading')
    await breathe()
  }
  const { db } = deps.database
  const tags = await storedTags(db, job.organisationId)
  for (const row of reading.rows) freeTag(row, tags)
  const stored = await storedTrees(db, job.organisationId)
  const keys = new Set(reading.rows.map((row) => row.sourceKey))
  const comparison = compareWithStored(
    reading.rows,
    stored.filter(({ sourceKey, tree }) => keys.has(sourceKey) || near(reading.extent, tree.position)),
    reading.fields,
  )
  const changed = new Map(comparison.changed.map((entry) => [entry.line, entry.differences]))
  const same = new Set(comparison.same)
  const rows = reading.rows.map((row): ImportRow => {
    const differences = changed.get(row.line)
    const change = !row.tree
      ? null
      : differences
        ? 'changed'
        : row.sourceKey !== null && same.has(row.sourceKey)
          ? 'same'
          : 'new'
    return importRow(row.line, row, row.tree, change, differences)
  })
  return { rows: [...rows, ...comparison.gone.map(goneRow)], notes: [...reading.notes] }
}

function importRow(
  line: number,
  { verdict, notes, raw, sourceKey }: Pick<RowVerdict, 'verdict' | 'notes' | 'raw' | 'sourceKey'>,
  record: unknown,
  change: ImportRow['change'],
  differences?: Difference[],
): ImportRow {
  return storable({
    line,
    verdict,
    notes,
    raw,
    record,
    sourceKey,
    change,
    differences: differences
      ? differences.map((d): [string, unknown, unknown] => [d.field, d.from, d.to])
      : null,
  })
}

/** A stored record that the file no longer has; it is shown and nothing more. */
const goneRow = (sourceKey: string, i: number): ImportRow => ({
  line: -1 - i,
  verdict: 'taken',
  notes: [],
  raw: {},
  record: null,
  sourceKey,
  change: 'gone',
  differences: null,
})

function near(extent: TreeReading['extent'], [lon, lat]: Position): boolean {
  if (!extent) return false
  const [west, south, east, north] = extent
  const m = GONE_MARGIN_DEG
  return lon >= west - m && lon <= east + m && lat >= south - m && lat <= north + m
}

/** A new tree whose tag another stored tree bears gets its identifier added. */
function freeTag(row: RowVerdict, tags: Map<string, string | null>) {
  const tag = row.tree?.tag
  if (tag === undefined || !tags.has(tag)) return
  if (row.sourceKey !== null && tags.get(tag) === row.sourceKey) return
  let free = tag
  for (let n = 2; tags.has(free); n++) free = `${tag.slice(0, 50)} (${n})`
  tags.set(free, row.sourceKey)
  row.tree!.tag = free
  row.verdict = 'taken-with-notes'
  row.notes.push({
    code: 'tag-repeated',
    path: 'tag',
    value: tag,
    message: `The tag “${tag}” stands on a stored tree; this one became “${free}”.`,
  })
}

async function shapeRows(
  deps: Deps,
  bytes: Uint8Array,
  kind: 'zones' | 'ground',
  mapping: ZoneMapping | GroundMapping,
  job: JobContext,
): Promise<Read> {
  const { db } = deps.database
  const reading: FeatureReading<{ name: string | null; kind: string; geometry: GroundGeometry }> =
    kind === 'zones'
      ? must(await readZones(bytes, mapping as ZoneMapping))
      : must(await readGround(bytes, mapping as GroundMapping))
  const stored = new Map(
    (await storedShapes(db, job.organisationId, kind)).map((shape) => [shape.sourceKey, shape]),
  )
  const seen = new Set<string>()
  const rows: ImportRow[] = []
  for (let at = 0; at < reading.rows.length; at += CHUNK_ROWS) {
    const chunk = reading.rows.slice(at, at + CHUNK_ROWS)
    await job.progress(at, 2 * reading.rows.length, 'Reading')
    const taken = chunk.flatMap((row) => (row.value ? [row] : []))
    const faults = await shapeFaults(
      db,
      taken.map((row) => row.value!.geometry),
    )
    for (const row of chunk) {
      const key = row.value && row.sourceKey === null ? null : keyOf(row.sourceKey, row.value?.geometry)
      const fault = (row.value && faults.get(taken.indexOf(row))) ?? repeated(key, seen)
      if (fault && row.value) {
        rows.push(
          importRow(row.number, { ...row, verdict: 'refused', notes: [fault, ...row.notes] }, null, null),
        )
        continue
      }
      if (key !== null) seen.add(key)
      const before = key === null ? undefined : stored.get(key)
      const differences = row.value && before ? shapeDifferences(before, row.value) : []
      const change = !row.value ? null : !before ? 'new' : differences.length > 0 ? 'changed' : 'same'
      rows.push(importRow(row.number, { ...row, sourceKey: key }, row.value, change, differences))
    }
  }
  // Zones of other files are stored too, so nothing can be called gone.
  return { rows, notes: reading.notes }
}

/** Files number their lines and their areas apart, so the same number may stand for two things. */
const keyOf = (sourceKey: string | null, geometry: GroundGeometry | undefined): string | null =>
  sourceKey === null ? null : `${geometry?.type.includes('Line') ? 'line' : 'area'} ${sourceKey}`

const repeated = (key: string | null, seen: Set<string>): Refusal | undefined =>
  key !== null && seen.has(key)
    ? { code: 'id-duplicate', path: 'sourceKey', value: key, message: `“${key}” stands in the file already.` }
    : undefined

function shapeDifferences(
  before: { name: string | null; kind: string; geometry: GroundGeometry },
  after: { name: string | null; kind: string; geometry: GroundGeometry },
): Difference[] {
  const differences: Difference[] = []
  const add = (field: string, from: unknown, to: unknown) =>
    differences.push({ field: field as Difference['field'], from, to })
  if (before.name !== after.name) add('name', before.name, after.name)
  if (before.kind !== after.kind) add('kind', before.kind, after.kind)
  if (outline(before.geometry) !== outline(after.geometry))
    add('geometry', 'stored outline', 'outline of the file')
  return differences
}

/** Coordinates to about a centimetre, as text. */
const outline = ({ type, coordinates }: GroundGeometry) =>
  type + JSON.stringify(coordinates, (_, value) => (typeof value === 'number' ? value.toFixed(7) : value))

async function storeRows(deps: Deps, importId: string, rows: ImportRow[], job: JobContext) {
  for (let at = 0; at < rows.length; at += CHUNK_ROWS) {
    await job.progress(2 * rows.length + at, 3 * rows.length, 'Comparing')
    await deps.database.transaction(async (tx) => {
      if ((await heldState(tx, job.organisationId, importId)) !== 'reading') throw new Cancelled()
      await insertRows(tx, job.organisationId, importId, rows.slice(at, at + CHUNK_ROWS))
    })
  }
  await job.progress(3 * rows.length, 3 * rows.length)
}

function countsOf(rows: ImportRow[]): Record<string, number> {
  const ofFile = rows.filter((row) => row.line > 0)
  const verdict = (is: Verdict) => ofFile.filter((row) => row.verdict === is).length
  const change = (is: ImportRow['change']) => rows.filter((row) => row.change === is).length
  return {
    rows: ofFile.length,
    taken: verdict('taken'),
    noted: verdict('taken-with-notes'),
    refused: verdict('refused'),
    new: change('new'),
    changed: change('changed'),
    same: change('same'),
    gone: change('gone'),
  }
}

/** The database's JSON takes neither zero characters nor halves of a surrogate pair. */
function storable<T>(value: T): T {
  if (typeof value === 'string')
    return (/[\0\ud800-\udfff]/.test(value) ? Buffer.from(value.replaceAll('\0', '')).toString() : value) as T
  if (Array.isArray(value)) return value.map(storable) as T
  if (value !== null && typeof value === 'object')
    return Object.fromEntries(Object.entries(value).map(([k, v]) => [storable(k), storable(v)])) as T
  return value
}
