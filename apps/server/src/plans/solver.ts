import { parentPort, workerData } from 'node:worker_threads'
import type { Outcome } from '@underbough/model'
import {
  planRounds,
  type RoundInput,
  type RoundPlan,
  straightLineTravel,
  urgencyThenNearest,
} from '@underbough/rounds'

/** What the thread is given: a plan's input without its travel model, which is made here. */
export interface SolverInput {
  input: Omit<RoundInput, 'travel'>
  detourFactor: number
  seed: number
  iterations: number
  /** One shared byte; 1 asks to stop and keep the best. */
  stop: SharedArrayBuffer
}
export type SolverMessage =
  | { progress: { iteration: number; iterations: number; total: number; placed: number; unplaced: number } }
  | { plan: Outcome<RoundPlan>; peer: Outcome<RoundPlan> }

if (parentPort) {
  const { input, detourFactor, seed, iterations, stop } = workerData as SolverInput
  const flag = new Uint8Array(stop)
  const whole: RoundInput = { ...input, travel: straightLineTravel({ detourFactor }) }
  const send = (message: SolverMessage) => parentPort!.postMessage(message)
  let told = 0
  const plan = planRounds(whole, {
    seed,
    iterations,
    cancelled: () => Atomics.load(flag, 0) === 1,
    onProgress: ({ iteration, iterations, total, placed, unplaced }) => {
      if (Date.now() - told < 200) return
      told = Date.now()
      send({ progress: { iteration, iterations, total, placed, unplaced } })
    },
  })
  send({ plan, peer: urgencyThenNearest(whole) })
}
