import { createHash, randomUUID } from 'node:crypto'
import { gunzipSync } from 'node:zlib'
import { readTable, type Table } from '@underbough/exchange'
import { readWind, roseOfGusts, strongestByDay, suggestWind, summaryOf } from '@underbough/exchange/wind'
import type { Outcome, Site, WindFile, WindRequest } from '@underbough/model'
import { conflict } from '../http/conflict.ts'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { siteById, updateSite } from '../sites/queries.ts'
import { exposureAfterRose } from './exposure.ts'
import { gustDays, insertWindFile, markAccepted, windFileById, windFiles } from './queries.ts'

/** Largest file taken over the network, bytes, and the largest that a packed one may come to. */
export const MAX_BYTES = 32 * 1024 * 1024
const MAX_UNPACKED = 96 * 1024 * 1024
const SAMPLES = 4
/** Days shown: forty years. */
const SHOWN_DAYS = 14_610

function must<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Refused(outcome.refusals)
  return outcome.value
}

/** A table of text, packed with gzip or not. */
function tableOf(file: Uint8Array, fileName: string): Table {
  const packed = file[0] === 0x1f && file[1] === 0x8b
  return must(readTable(packed ? unpacked(file) : file, fileName, { format: 'csv', maxBytes: MAX_UNPACKED }))
}

function unpacked(file: Uint8Array): Uint8Array {
  try {
    return gunzipSync(file, { maxOutputLength: MAX_UNPACKED })
  } catch (error) {
    if ((error as { code?: string }).code === 'ERR_BUFFER_TOO_LARGE')
      refuse('too-large', 'file', 'Unpacked, the file is larger than what is taken. Split it by years.', {
        limit: `at most ${MAX_UNPACKED / 1024 / 1024} MiB`,
      })
    return refuse('file-not-this-format', 'file', 'The packed file is damaged. Save it again.')
  }
}

async function siteOf(deps: Deps, person: Person, siteId: string): Promise<Site> {
  const site = await siteById(deps.database.db, person.organisation.id, siteId)
  return site ?? refuse('unknown', 'id', 'There is no such site.')
}

/** What a file seems to hold and how it might be read. Nothing is stored. */
export async function lookAtWind(
  deps: Deps,
  person: Person,
  siteId: string,
  fileName: string,
  file: Uint8Array,
) {
  await siteOf(deps, person, siteId)
  const table = tableOf(file, fileName)
  const samples = (i: number) => [...new Set(table.rows.slice(0, 400).map(({ cells }) => cells[i] ?? ''))]
  return {
    rows: table.rows.length,
    columns: table.columns.map(({ name }, i) => ({
      name,
      samples: samples(i)
        .filter(Boolean)
        .slice(0, SAMPLES)
        .map((cell) => cell.slice(0, 60)),
    })),
    ...suggestWind(table),
  }
}

/** Reads a file of hourly weather and keeps what it says: all of it or nothing. The site's rose stays until somebody accepts. */
export async function keepWind(
  deps: Deps,
  person: Person,
  siteId: string,
  fileName: string,
  file: Uint8Array,
  request: WindRequest,
): Promise<WindFile> {
  const site = await siteOf(deps, person, siteId)
  const timeZone = site.timeZone ?? person.organisation.timeZone
  const read = readWind(tableOf(file, fileName), request.mapping)
  const { hours, ...reading } = must(read)
  const rose = roseOfGusts(hours, request.threshold, timeZone)
  const id = randomUUID()
  const { id: organisationId } = person.organisation
  const days = strongestByDay(hours, timeZone).map(({ atMs, ...day }) => ({
    siteId,
    station: request.station,
    windFileId: id,
    at: new Date(atMs).toISOString(),
    ...day,
  }))
  const row = {
    organisationId,
    id,
    siteId,
    fileName: fileName.slice(0, 200),
    digest: createHash('sha256').update(file).digest('hex'),
    request,
    summary: summaryOf({ hours, ...reading }, rose, read.ok ? read.notes : []),
    rose: rose.rose,
    madeBy: person.personId,
    madeAt: deps.now().toISOString(),
  }
  await deps.database.transaction((tx) => insertWindFile(tx, row, days))
  return (await windFileById(deps.database.db, organisationId, id))!
}

/** Files read for a site, and the strongest gust of each of its days. */
export async function windOfSite(deps: Deps, person: Person, siteId: string) {
  await siteOf(deps, person, siteId)
  const { db } = deps.database
  const { id } = person.organisation
  return {
    files: await windFiles(db, id, siteId),
    days: await gustDays(db, id, siteId, SHOWN_DAYS),
  }
}

/** Gives the site the rose of a file that was read, and computes its trees anew: all stored in one transaction, or nothing. */
export async function acceptRose(
  deps: Deps,
  person: Person,
  id: string,
  version: number,
): Promise<{ site: Site; jobId: string | null }> {
  const { id: organisationId } = person.organisation
  const done = await deps.database.transaction(async (tx) => {
    const file = await windFileById(tx, organisationId, id)
    if (!file) refuse('unknown', 'id', 'There is no such file of wind.')
    if (!file.rose)
      refuse('gusts-none', 'id', 'This file has no rose: no gust with a direction was strong enough.')
    const site = (await siteById(tx, organisationId, file.siteId))!
    if (!(await updateSite(tx, organisationId, site.id, version, { windRose: file.rose }))) conflict(site)
    await markAccepted(tx, organisationId, id, {
      acceptedBy: person.personId,
      acceptedAt: deps.now().toISOString(),
      replaced: site.windRose,
    })
    return {
      site: (await siteById(tx, organisationId, site.id))!,
      jobId: await exposureAfterRose(tx, deps, person, site.id),
    }
  })
  if (done.jobId) await deps.jobs.queue(organisationId, done.jobId)
  return done
}
