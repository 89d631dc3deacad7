import { Duplex } from 'node:stream'
import type { Worker } from 'node:worker_threads'
import { startThread } from '../thread.ts'

/** One running embedded database: a stream that speaks the wire protocol, a snapshot of it, and its end. */
export interface Embedded {
  connect(): Duplex
  /** The whole database as a gzipped archive, to start another one from. */
  dump(): Promise<Uint8Array<ArrayBuffer>>
  close(): Promise<void>
}

type Reply = Uint8Array | { ready: true } | { dump: Uint8Array<ArrayBuffer> } | { closed: true }

/**
 * Starts the embedded database in a worker thread. Without `dataDir` it lives in memory.
 * The caller holds the folder's lock: two processes on one folder destroy it.
 */
export async function openEmbedded(options: { dataDir?: string; snapshot?: Uint8Array }): Promise<Embedded> {
  const worker = startThread(new URL('./worker.ts', import.meta.url), { workerData: options })
  await next(worker, 'ready')
  return {
    connect: () => wire(worker),
    dump: async () => {
      worker.postMessage({ dump: true })
      return (await next(worker, 'dump')).dump
    },
    close: async () => {
      worker.postMessage({ close: true })
      await next(worker, 'closed')
      await worker.terminate()
    },
  }
}

function next<K extends 'ready' | 'dump' | 'closed'>(
  worker: Worker,
  key: K,
): Promise<Extract<Reply, Record<K, unknown>>> {
  return new Promise((resolve, reject) => {
    const onMessage = (message: Reply) => {
      if (message instanceof Uint8Array || !(key in message)) return
      worker.off('message', onMessage)
      worker.off('error', reject)
      resolve(message as Extract<Reply, Record<K, unknown>>)
    }
    worker.on('message', onMessage)
    worker.once('error', reject)
  })
}

/** The worker's port as a socket, as far as the driver looks. */
function wire(worker: Worker): Duplex {
  const socket = new Duplex({
    read() {},
    write(chunk: Buffer, _encoding, done) {
      worker.postMessage(new Uint8Array(chunk))
      done()
    },
  })
  worker.on('message', (message: Reply) => {
    if (message instanceof Uint8Array) socket.push(Buffer.from(message))
  })
  worker.once('exit', () => socket.destroy())
  return Object.assign(socket, { readyState: 'open', setKeepAlive: () => socket, setNoDelay: () => socket })
}
