import { readFile, writeFile } from 'node:fs/promises'
import { basename } from 'node:path'
import { parseArgs } from 'node:util'
import { gunzipSync } from 'node:zlib'
import { treeFields } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import type { Mapping } from '../imports/mapping.ts'
import {
  beginImport,
  cancelImport,
  commitImport,
  importRows,
  importStatus,
  previewImport,
  refusedCsv,
} from '../imports/service.ts'
import { actor, type Desk, Usage, withDeps } from './desk.ts'

/** A file on the same machine may be larger than one sent over the network, bytes. */
const MAX_BYTES = 256 * 1024 * 1024
const SHOWN_CHANGES = 10
const options = {
  kind: { type: 'string' },
  map: { type: 'string', multiple: true },
  crs: { type: 'string' },
  unit: { type: 'string' },
  'height-unit': { type: 'string' },
  'measured-at': { type: 'string' },
  circumference: { type: 'boolean' },
  'decimal-comma': { type: 'boolean' },
  as: { type: 'string' },
  width: { type: 'string' },
  preview: { type: 'boolean' },
  yes: { type: 'boolean' },
  refused: { type: 'string' },
  organisation: { type: 'string' },
} as const
type Flags = ReturnType<typeof parseArgs<{ options: typeof options; allowPositionals: true }>>['values']
type Status = Awaited<ReturnType<typeof importStatus>>

/** `import FILE`: shows the mapping, the verdicts and the changes, and writes with --yes. */
export async function importFile(rest: string[], desk: Desk): Promise<number> {
  const { values: flags, positionals } = parseArgs({ args: rest, options, allowPositionals: true })
  const [path] = positionals
  if (!path || positionals.length > 1) throw new Usage('Name one file to import.')
  const kind = flags.kind
  if (kind !== 'trees' && kind !== 'zones' && kind !== 'ground')
    throw new Usage('Say what the file holds: --kind trees, zones or ground.')
  const { name, bytes } = await open(path)
  return withDeps(desk, async (deps) => {
    const person = await actor(deps, flags.organisation)
    const begun = await beginImport(deps, person, kind, name, bytes, MAX_BYTES)
    try {
      const mapping = changed(begun.suggested, flags)
      show(desk, begun, mapping)
      const status = await finished(
        deps,
        person,
        begun.importId,
        await previewImport(deps, person, begun.importId, mapping),
      )
      await report(deps, person, desk, status)
      if (flags.refused) {
        await writeFile(flags.refused, await refusedCsv(deps, person, begun.importId))
        desk.print(`${status.counts.refused} refused rows are in ${flags.refused}.`)
      }
      if (flags.preview || !flags.yes) {
        await cancelImport(deps, person, begun.importId)
        desk.print(flags.preview ? 'Nothing was written.' : 'Nothing was written. Say --yes to write it.')
        return 0
      }
      const done = await finished(
        deps,
        person,
        begun.importId,
        await commitImport(deps, person, begun.importId),
      )
      desk.print(
        `Written: ${done.counts.new} new, ${done.counts.changed} changed. Dates and exposure are computed.`,
      )
      return 0
    } catch (error) {
      await cancelImport(deps, person, begun.importId).catch(() => {})
      throw error
    }
  })
}

async function open(path: string): Promise<{ name: string; bytes: Uint8Array }> {
  const bytes = await readFile(path).catch((error: NodeJS.ErrnoException) => {
    throw new Usage(`${path} could not be read (${error.code}).`)
  })
  const name = basename(path)
  return name.endsWith('.gz') ? { name: name.slice(0, -3), bytes: gunzipSync(bytes) } : { name, bytes }
}

/** Waits for a job and all that follows it; throws with its reason when it did not end well. */
async function finished(deps: Deps, person: Person, importId: string, jobId: string): Promise<Status> {
  await deps.jobs.idle()
  const status = await importStatus(deps, person, importId)
  if (status.refusal) throw new Error(`${status.refusal.message} (${status.refusal.code})`)
  const job = await deps.jobs.get(person.organisation.id, jobId)
  if (job?.state !== 'done') throw new Error(job?.message || 'The job did not end.')
  return status
}

function changed(suggested: Mapping, flags: Flags): Mapping {
  const common = flags.crs ? { crs: flags.crs } : {}
  if (!('columns' in suggested)) {
    const named = pairs(flags.map, ['name', 'kind'])
    return {
      ...suggested,
      ...common,
      ...(named.name ? { nameColumn: named.name } : {}),
      ...(named.kind ? { kindColumn: named.kind } : {}),
      ...(flags.as ? { kind: flags.as } : {}),
      ...(flags.width && 'lineWidthM' in suggested ? { lineWidthM: Number(flags.width) } : {}),
    } as Mapping
  }
  const columns = { ...suggested.columns }
  for (const given of flags.map ?? []) {
    const [column, field] = split(given, treeFields)
    columns[column] = field as (typeof treeFields)[number]
  }
  if (flags.circumference)
    for (const [column, field] of Object.entries(columns))
      if (field === 'diameter') columns[column] = 'circumference'
  return {
    ...suggested,
    ...common,
    columns,
    ...(flags.unit ? { diameterUnit: flags.unit } : {}),
    ...(flags['height-unit'] ? { heightUnit: flags['height-unit'] } : {}),
    ...(flags['measured-at'] ? { measuredAtM: Number(flags['measured-at']) } : {}),
    ...(flags['decimal-comma'] ? { decimalComma: true } : {}),
  } as Mapping
}

function split(given: string, fields: readonly string[]): [column: string, field: string] {
  const at = given.lastIndexOf('=')
  const [column, field] = [given.slice(0, at), given.slice(at + 1)]
  if (at < 1 || !fields.includes(field))
    throw new Usage(`--map ${given}: write COLUMN=FIELD, a field is one of ${fields.join(', ')}.`)
  return [column, field]
}

/** Columns by the field they are taken for. */
const pairs = (given: string[] | undefined, fields: readonly string[]): Record<string, string> =>
  Object.fromEntries((given ?? []).map((text) => split(text, fields).reverse()))

function show(
  desk: Desk,
  { table, explanations }: Awaited<ReturnType<typeof beginImport>>,
  mapping: Mapping,
) {
  desk.print(`${table.rows} rows, ${table.format}, ${table.encoding}.`)
  if ('columns' in mapping) {
    const because = new Map(explanations?.columns.map((guess) => [guess.column, guess]))
    for (const [column, field] of Object.entries(mapping.columns)) {
      const guess = because.get(column)
      desk.print(
        `  ${column.padEnd(24)} ${field.padEnd(16)} ${guess?.field === field ? guess.because : 'You said so.'}`,
      )
    }
  }
  const { columns: _, ...settings } = mapping as Record<string, unknown>
  desk.print(
    `  ${Object.entries(settings)
      .map(([name, value]) => `${name} ${value}`)
      .join(', ')}`,
  )
}

async function report(deps: Deps, person: Person, desk: Desk, status: Status) {
  const { counts } = status
  desk.print(`${counts.taken} taken, ${counts.noted} taken with notes, ${counts.refused} refused:`)
  for (const { code, count } of status.byCode) desk.print(`  ${String(count).padStart(7)}  ${code}`)
  for (const note of status.notes) desk.print(`  The file: ${note.message}`)
  desk.print(
    `${counts.new} new, ${counts.changed} changed, ${counts.same} the same, ${counts.gone} gone from the file (kept here).`,
  )
  const { rows, total } = await importRows(deps, person, status.importId, { change: 'changed' }, 1)
  for (const row of rows.slice(0, SHOWN_CHANGES))
    desk.print(
      `  ${row.sourceKey}: ${row.differences.map((d) => `${d.field} ${plain(d.from)} → ${plain(d.to)}`).join('; ')}`,
    )
  if (total > SHOWN_CHANGES) desk.print(`  … and ${total - SHOWN_CHANGES} more`)
}

const plain = (value: unknown) =>
  value === null ? 'unknown' : typeof value === 'string' ? value : JSON.stringify(value)
