/** The way to the server: one client, one refusal type, one memory. */
export { address, api } from './client.ts'
export { type Here, packPrefix, waitingOf } from './here.ts'
export * from './hooks.ts'
export { keptAnswer, useAsOf } from './kept.ts'
export { type DemoAccount, isSilence, noSignal, Refused, readProblem, refusalsOf } from './problem.ts'
export type * from './types.ts'
