import { randomUUID } from 'node:crypto'
import { closingOf, type FaultCase, round, withDatabase } from './round.ts'
import type { Ask } from './server.ts'

const TREES = 60
const IN_BATCH = 6

/** Killed while a phone sends batches: what was acknowledged is on record, and when all of it comes again each thing is there once. */
export const batchesCase: FaultCase = (settings) => {
  const acknowledged = new Set<string>()
  const deviceId = randomUUID()
  let batches: { key: string; body: ReturnType<typeof closingOf> }[][] = []
  const send = (inspector: Ask, batch: (typeof batches)[number]) =>
    inspector('POST', '/entries', {
      format: 3,
      deviceId,
      sentAt: new Date().toISOString(),
      entries: batch.map(({ key, body }) => ({
        key,
        kind: 'closing',
        authorId: 'inspector',
        madeAt: '2026-11-25T09:30:00Z',
        clockOffsetMs: 0,
        body,
      })),
    })
  return round(
    settings,
    async (server) => {
      const inspector = await server.as('inspector')
      const { trees } = (await inspector('GET', `/trees?limit=${TREES}`)).body
      const entries = trees.map((tree: { id: string }) => ({ key: randomUUID(), body: closingOf(tree.id) }))
      batches = Array.from({ length: TREES / IN_BATCH }, () => entries.splice(0, IN_BATCH))
      let over = false
      void (async () => {
        for (const batch of batches) {
          const { body } = await send(inspector, batch)
          for (const { key, verdict } of body.answers) if (verdict === 'taken') acknowledged.add(key)
        }
        over = true
        // The connection that dies with the process is what is tried here.
      })().catch(() => {})
      return async () => over
    },
    async (server, copy, lost) => {
      const inspector = await server.as('inspector')
      const heard = [...acknowledged]
      const { missing } = (await inspector('POST', '/entries/known', { keys: heard })).body
      for (const key of missing) lost.push(`the acknowledged entry ${key} is not on record`)
      for (const batch of batches)
        for (const { key, verdict, again } of (await send(inspector, batch)).body.answers)
          if (verdict !== 'taken' || (heard.includes(key) && !again))
            lost.push(`sent again, the entry ${key} was ${verdict}${again ? '' : ' as new'}`)
      await server.stop()
      await withDatabase(copy, async (one) => {
        const found = [
          await one`select count(*)::int as n from received_entry`,
          await one`select count(*)::int as n from visit where stage = 'closed'`,
          await one`select count(*)::int as n from finding`,
          await one`select count(*)::int as n from rating`,
        ].join(' ')
        const wanted = [TREES, TREES, 2 * TREES, TREES].join(' ')
        if (found !== wanted)
          lost.push(`entries, visits, findings, ratings: ${found} in the place of ${wanted}`)
      })
    },
  )
}
