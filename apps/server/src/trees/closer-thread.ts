import { parentPort } from 'node:worker_threads'
import {
  type Closer,
  closerOf,
  type ExposurePolicy,
  type TreeOnGround,
  type ZoneOnGround,
} from '@underbough/exposure'

/** One tree with its site's rose and the zones about it. */
export interface CloserTask {
  tree: TreeOnGround
  windRose: readonly number[] | null
  zones: readonly ZoneOnGround[]
  policy: ExposurePolicy
}
export type CloserAnswer = { closer: Closer | null } | { failed: string }

function answerTo({ tree, windRose, zones, policy }: CloserTask): CloserAnswer {
  try {
    return { closer: closerOf(tree, windRose, zones, policy) }
  } catch (error) {
    return { failed: error instanceof Error ? error.message : String(error) }
  }
}

parentPort?.on('message', (task: CloserTask) => parentPort!.postMessage(answerTo(task)))
