/** What tests use of the server: a whole one in their own process. */
export { type Answer, type Ask, databases, type Harness, startHarness } from './testing/harness.ts'
