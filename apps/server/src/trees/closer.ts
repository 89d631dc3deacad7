import type { Worker } from 'node:worker_threads'
import { startThread } from '@underbough/db'
import type { Closer } from '@underbough/exposure'
import type { CloserAnswer, CloserTask } from './closer-thread.ts'

interface Waiting {
  resolve(closer: Closer | null): void
  reject(error: Error): void
}

/** So long after its last answer the thread ends. */
const IDLE_MS = 60_000

let open: { thread: Worker; waiting: Waiting[]; idle: NodeJS.Timeout | undefined } | null = null

/** `closerOf` in one thread for the whole process, tree after tree, so that the office answers others meanwhile. Fails if the thread does. */
export function closerInThread({ tree, windRose, zones, policy }: CloserTask): Promise<Closer | null> {
  open ??= start()
  const { thread, waiting, idle } = open
  clearTimeout(idle)
  return new Promise((resolve, reject) => {
    waiting.push({ resolve, reject })
    thread.postMessage({ tree, windRose, zones, policy } satisfies CloserTask)
  })
}

function start() {
  const thread = startThread(new URL('./closer-thread.ts', import.meta.url))
  const mine: NonNullable<typeof open> = { thread, waiting: [], idle: undefined }
  thread.unref()
  // Answers come in the order of the tasks.
  thread.on('message', (answer: CloserAnswer) => {
    const { resolve, reject } = mine.waiting.shift()!
    if ('failed' in answer) reject(new Error(answer.failed))
    else resolve(answer.closer)
    if (mine.waiting.length === 0) mine.idle = setTimeout(() => end(mine), IDLE_MS).unref()
  })
  thread.on('error', (error) => end(mine, error))
  thread.on('exit', () => end(mine))
  return mine
}

function end(mine: NonNullable<typeof open>, error = new Error('The thread ended.')) {
  if (open === mine) open = null
  clearTimeout(mine.idle)
  for (const { reject } of mine.waiting.splice(0)) reject(error)
  void mine.thread.terminate()
}
