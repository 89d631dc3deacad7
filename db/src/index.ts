/** The records' home: one schema, one set of migrations, two databases behind one door. */

export { demoPassword, loadDemo } from './demo/index.ts'
export { copyInto, type Database, type Db, openDatabase, type Session } from './door.ts'
export type { ImportKind, ImportState, JobState, PlanState } from './schema/index.ts'
export * as tables from './schema/index.ts'
export { startThread } from './thread.ts'
