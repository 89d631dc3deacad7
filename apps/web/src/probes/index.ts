/** Entering readings into wood. */
export { AddReading } from './AddReading.tsx'
export { BordersEditor } from './BordersEditor.tsx'
export { useProbes } from './hooks.ts'
