import type { Deps } from '../http/context.ts'
import type { JobWork } from './jobs.ts'

/** What each kind of job does. */
export function works(_deps: Deps): Record<string, JobWork> {
  return {}
}
