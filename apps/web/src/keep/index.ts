/** What this device keeps, and how it reaches the office. */
export { device, enter } from './device.ts'
export { refusalOfKeeping } from './notKept.ts'
export type { About, BordersRow, KeptFile, ReadingRow, VisitRow } from './rows.ts'
export { onTaken, sendNow, startSending, whileNothingGoes } from './sender.ts'
export { type StandingWord, standingOf, useLive, useStanding } from './standing.ts'
export { type KeepState, useKeepState } from './state.ts'
