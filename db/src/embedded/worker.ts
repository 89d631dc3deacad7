import { parentPort, workerData } from 'node:worker_threads'
import { PGlite } from '@electric-sql/pglite'
import { postgis } from '@electric-sql/pglite-postgis'

/**
 * The embedded database in a thread of its own. It speaks PostgreSQL's wire protocol over the message port, so that the
 * one ordinary driver serves both databases and nothing above can tell which one answers.
 */
const { dataDir, snapshot } = workerData as { dataDir?: string; snapshot?: Uint8Array<ArrayBuffer> }
const port = parentPort!

const database = await PGlite.create({
  ...(dataDir ? { dataDir } : {}),
  ...(snapshot ? { loadDataDir: new Blob([snapshot]) } : {}),
  extensions: { postgis },
})

const SYNC = 0x53
const QUERY = 0x51
const ERROR = 0x45
const READY = 0x5a

let waiting = Buffer.alloc(0)
let greeted = false
let skipping = false

/** Length of the next whole message, or 0 while it is incomplete. The first message has no type byte. */
function nextLength(): number {
  const head = greeted ? 1 : 0
  if (waiting.length < head + 4) return 0
  const length = head + waiting.readInt32BE(head)
  return waiting.length >= length ? length : 0
}

async function answer(message: Buffer): Promise<Buffer> {
  const parts: Buffer[] = []
  await database.runExclusive(() =>
    database.execProtocolRawStream(new Uint8Array(message), {
      onRawData: (data) => parts.push(Buffer.from(data)),
    }),
  )
  return Buffer.concat(parts)
}

/** After an error PostgreSQL reads on to the next Sync in silence; PGlite says "ready" at once, which would count twice. */
function withoutEarlyReady(reply: Buffer): Buffer {
  const kept: Buffer[] = []
  for (let at = 0; at < reply.length; ) {
    const end = at + 1 + reply.readInt32BE(at + 1)
    if (reply[at] === ERROR) skipping = true
    if (!(skipping && reply[at] === READY)) kept.push(reply.subarray(at, end))
    at = end
  }
  return skipping ? Buffer.concat(kept) : reply
}

async function take(data: Uint8Array) {
  waiting = Buffer.concat([waiting, data])
  for (let length = nextLength(); length > 0; length = nextLength()) {
    const message = waiting.subarray(0, length)
    const kind = greeted ? message[0] : undefined
    waiting = waiting.subarray(length)
    if (skipping && kind !== SYNC) continue
    skipping = false
    let reply = await answer(message)
    if (greeted && kind !== SYNC && kind !== QUERY) reply = withoutEarlyReady(reply)
    greeted = true
    if (reply.length > 0) port.postMessage(reply)
  }
}

let queue = Promise.resolve()
port.on('message', (message: Uint8Array | { dump: true } | { close: true }) => {
  queue = queue.then(async () => {
    if (message instanceof Uint8Array) return take(message)
    if ('dump' in message) {
      const blob = await database.dumpDataDir('gzip')
      return port.postMessage({ dump: new Uint8Array(await blob.arrayBuffer()) })
    }
    await database.close()
    port.postMessage({ closed: true })
  })
})
port.postMessage({ ready: true })
