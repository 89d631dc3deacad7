import type { Database } from '@underbough/db'
import type { Member, Organisation } from '@underbough/model'
import type { Jobs } from '../jobs/jobs.ts'
import type { Auth } from '../session/auth.ts'

/** What every subject may use. Built once, in main or in a test. */
export interface Deps {
  database: Database
  auth: Auth
  jobs: Jobs
  /** The clock, so that a test can choose the day. */
  now: () => Date
}

/** Who is asking, looked up afresh for each request. */
export interface Person extends Member {
  organisation: Organisation
}

/** Variables that the guard puts on each request. */
export interface Env {
  Variables: { person: Person }
}
