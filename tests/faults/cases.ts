import { batchesCase } from './batches.ts'
import { digestOfExposure, listOf } from './ground.ts'
import { closingOf, type FaultCase, round, until, wait, withDatabase } from './round.ts'
import type { Answer, Ask } from './server.ts'

const total = async (officer: Ask) => (await officer('GET', '/trees?limit=1')).body.total as number
const importOf = (officer: Ask, id: string) => async () => (await officer('GET', `/imports/${id}`)).body
const settled = ({ state }: Answer['body']) => state !== 'reading' && state !== 'writing'

async function bringIn(officer: Ask, rows: number): Promise<string> {
  const form = new FormData()
  form.set('kind', 'trees')
  form.set('file', new File([listOf(rows)], 'list.csv'))
  const { body } = await officer('POST', '/imports', form)
  const asked = await officer('POST', `/imports/${body.importId}/preview`, { mapping: body.suggested })
  if (asked.status !== 200) throw new Error(JSON.stringify(asked.body))
  return body.importId
}

/** Asks one more time whether work is over without waiting for an answer that may not come. */
const now = async <T>(ask: () => Promise<T>, wanted: (value: T) => boolean) =>
  Promise.race([ask().then(wanted), wait(50).then(() => false)])

/** Killed while a list is read: it is read to its end by the next process, every row once, and nothing is in the inventory. */
const importRead: FaultCase = (settings) => {
  let id = ''
  return round(
    settings,
    async (server) => {
      const officer = await server.as('officer')
      id = await bringIn(officer, settings.rows)
      return () => now(importOf(officer, id), settled)
    },
    async (server, _copy, lost) => {
      const officer = await server.as('officer')
      const read = await until('Reading', importOf(officer, id), settled)
      if (read.state !== 'ready') lost.push(`the import is ${read.state}`)
      if (read.counts.rows !== settings.rows || read.counts.new !== settings.rows)
        lost.push(`${read.counts.rows} rows, ${read.counts.new} new`)
      const { body } = await officer('GET', `/imports/${id}/rows`)
      if (body.total !== settings.rows) lost.push(`${body.total} rows are stored`)
      if ((await total(officer)) !== settings.ground.trees) lost.push('trees were written by reading')
    },
  )
}

/** Killed while a list is written: at every look all of it is there or none, and in the end all, once. */
const importWrite: FaultCase = (settings) => {
  let id = ''
  return round(
    settings,
    async (server) => {
      const officer = await server.as('officer')
      id = await bringIn(officer, settings.rows)
      await until('Reading', importOf(officer, id), ({ state }) => state === 'ready')
      const asked = await officer('POST', `/imports/${id}/commit`)
      if (asked.status !== 200) throw new Error(JSON.stringify(asked.body))
      return () => now(importOf(officer, id), settled)
    },
    async (server, copy, lost) => {
      const officer = await server.as('officer')
      const { trees } = settings.ground
      const whole = trees + settings.rows
      const seen = async () => {
        const count = await total(officer)
        if (count !== trees && count !== whole) lost.push(`${count} trees: neither ${trees} nor ${whole}`)
        return importOf(officer, id)()
      }
      const written = await until('Writing', seen, settled)
      if (written.state !== 'done') lost.push(`the import is ${written.state}`)
      await until(
        'Dates and figures',
        async () => (await officer('GET', '/jobs')).body.jobs,
        (jobs) => jobs.length === 0,
      )
      await server.stop()
      await withDatabase(copy, async (one) => {
        if ((await one`select count(*)::int as n from tree`) !== whole) lost.push('the list is not whole')
        if ((await one`select count(distinct source_key)::int as n from tree`) !== settings.rows)
          lost.push('a row is there twice')
        if ((await one`select count(*)::int as n from tree_state where due_on is not null`) !== whole)
          lost.push('a tree has no date')
      })
    },
  )
}

/** Killed while all exposure is worked out: begun again, and the same figures as if nothing had happened. */
const exposureAll: FaultCase = (settings) => {
  let id = ''
  const job = (officer: Ask) => async () => (await officer('GET', `/jobs/${id}`)).body
  const ended = ({ endedAt }: Answer['body']) => endedAt !== null
  return round(
    settings,
    async (server) => {
      const officer = await server.as('officer')
      id = (await officer('POST', '/exposure/recompute', {})).body.jobId
      return () => now(job(officer), ended)
    },
    async (server, copy, lost) => {
      const { state, message } = await until('The job', job(await server.as('officer')), ended)
      if (state !== 'done') lost.push(`the job ${state}: ${message}`)
      await server.stop()
      const database = await copy.open()
      if ((await digestOfExposure(database)) !== settings.ground.exposureDigest)
        lost.push('the figures differ')
      await database.close()
    },
  )
}

/** Killed while visits are closed one after the other: what was acknowledged is there, once and whole; the rest can be sent again. */
const visitClose: FaultCase = (settings) => {
  const acknowledged = new Set<string>()
  let closings: ReturnType<typeof closingOf>[] = []
  const send = async (inspector: Ask, closing: (typeof closings)[number]) => {
    const { status, body } = await inspector('POST', `/visits/${closing.visit.id}/close`, closing)
    if (status !== 200) throw new Error(`A visit was refused: ${JSON.stringify(body)}`)
    acknowledged.add(closing.visit.id)
  }
  return round(
    settings,
    async (server) => {
      const inspector = await server.as('inspector')
      const { trees } = (await inspector('GET', '/trees?limit=300')).body
      closings = trees.map((tree: { id: string }) => closingOf(tree.id))
      let over = false
      void (async () => {
        for (const closing of closings) await send(inspector, closing)
        over = true
      })().catch((error: Error) => {
        // The connection that dies with the process is what is tried here; a refusal is not.
        if (error.message.startsWith('A visit')) throw error
      })
      return async () => over
    },
    async (server, copy, lost) => {
      const inspector = await server.as('inspector')
      const heard = new Set(acknowledged)
      for (const { visit } of closings) {
        const { visits, ratings, seen } = (await inspector('GET', `/trees/${visit.treeId}`)).body
        const shape = `${visits.length} visits, ${visits[0]?.findings.length ?? 0} findings, ${ratings.length} ratings, seen ${seen}`
        const whole = '1 visits, 2 findings, 1 ratings, seen true'
        const none = '0 visits, 0 findings, 0 ratings, seen false'
        if (heard.has(visit.id) ? shape !== whole : shape !== whole && shape !== none)
          lost.push(`${visit.id}: ${shape}`)
      }
      for (const closing of closings.slice(0, heard.size + 3)) await send(inspector, closing)
      await server.stop()
      await withDatabase(copy, async (one) => {
        const sent = Math.min(heard.size + 3, closings.length)
        const visits = await one`select count(*)::int as n from visit where stage = 'closed'`
        const [findings, ratings] = [
          await one`select count(*)::int as n from finding`,
          await one`select count(*)::int as n from rating`,
        ]
        if (visits !== sent || findings !== 2 * sent || ratings !== sent)
          lost.push(`${visits} visits, ${findings} findings, ${ratings} ratings of ${sent} sent`)
      })
    },
  )
}

export const cases = {
  'import-read': importRead,
  'import-write': importWrite,
  exposure: exposureAll,
  visit: visitClose,
  entries: batchesCase,
} satisfies Record<string, FaultCase>

/** Milliseconds within which the kill falls, by case: about as long as the work takes on a small machine. */
export const spanMs: Record<keyof typeof cases, number> = {
  'import-read': 1500,
  'import-write': 1500,
  exposure: 2500,
  visit: 2500,
  entries: 2500,
}
