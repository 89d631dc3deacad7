/** The way to the server: one client, one refusal type, one memory. */
export { address, api } from './client.ts'
export * from './hooks.ts'
export { type DemoAccount, Refused, refusalsOf } from './problem.ts'
export type * from './types.ts'
