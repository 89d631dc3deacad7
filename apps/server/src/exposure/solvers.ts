import { startThread } from '@underbough/db'
import type { Box } from './queries.ts'
import { type Reading, type Reckoned, Reckoner } from './reckon.ts'
import type { Answer, Asked } from './solver.ts'

/** What works out figures, here or in a thread: one reckoning at a time. */
export interface Solver {
  prepare(reading: Reading): Promise<Box[]>
  solve(zones: string): Promise<Reckoned>
  close(): Promise<unknown>
}

export function solverHere(): Solver {
  const reckoner = new Reckoner()
  return {
    prepare: async (reading) => reckoner.prepare(reading),
    solve: async (zones) => reckoner.solve(zones),
    close: async () => {},
  }
}

export function solverInThread(): Solver {
  const thread = startThread(new URL('./solver.ts', import.meta.url))
  const ask = (asked: Asked) =>
    new Promise<Answer>((resolve, reject) => {
      const failed = (error: Error) => {
        thread.off('message', answered)
        reject(error)
      }
      const answered = (answer: Answer) => {
        thread.off('error', failed)
        if ('failed' in answer) reject(new Error(answer.failed))
        else resolve(answer)
      }
      thread.once('error', failed)
      thread.once('message', answered)
      thread.postMessage(asked)
    })
  return {
    prepare: async (reading) => ((await ask({ reading })) as { boxes: Box[] }).boxes,
    solve: async (zones) => ((await ask({ zones })) as { reckoned: Reckoned }).reckoned,
    close: () => thread.terminate(),
  }
}
