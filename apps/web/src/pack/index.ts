/** Days on this device: fetched ahead, kept, cleared. */
export { DaysAhead } from './DaysAhead.tsx'
export { useDayPack } from './hooks.ts'
export { PackLine } from './PackLine.tsx'
