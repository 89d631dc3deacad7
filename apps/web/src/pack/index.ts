/** Days on this device: fetched ahead, kept, cleared. */
export { DaysAhead } from './DaysAhead.tsx'
export { PackLine } from './PackLine.tsx'
