import { parentPort } from 'node:worker_threads'
import type { Box } from './queries.ts'
import { type Reading, type Reckoned, Reckoner } from './reckon.ts'

export type Asked = { reading: Reading } | { zones: string }
export type Answer = { boxes: Box[] } | { reckoned: Reckoned } | { failed: string }

if (parentPort) {
  const port = parentPort
  const reckoner = new Reckoner()
  port.on('message', (asked: Asked) => {
    try {
      if ('reading' in asked) return port.postMessage({ boxes: reckoner.prepare(asked.reading) })
      const reckoned = reckoner.solve(asked.zones)
      const { written } = reckoned
      const given = written?.as === 'copy' ? [written.exposure, written.exposureZone] : []
      port.postMessage(
        { reckoned },
        given.map(({ buffer }) => buffer as ArrayBuffer),
      )
    } catch (error) {
      port.postMessage({ failed: (error as Error).stack ?? String(error) })
    }
  })
}
