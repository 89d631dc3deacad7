/** What this device keeps, and how it reaches the office. */
export { device, enter } from './device.ts'
export { namesOf, rememberName } from './names.ts'
export { refusalOfKeeping } from './notKept.ts'
export type { BordersRow, ReadingRow, VisitRow } from './rows.ts'
export { onTaken, sendNow, startSending, whileNothingGoes } from './sender.ts'
export { useLive, useStanding } from './standing.ts'
export { useKeepState } from './state.ts'
