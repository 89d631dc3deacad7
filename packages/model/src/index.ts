/** The words, units and records that every other room speaks in. */
export * from './chance.ts'
export * from './date.ts'
export * from './plane.ts'
export type { AreaGeometry, GroundGeometry, Position } from './records/common.ts'
export {
  areaGeometry,
  bearingDeg,
  civilDate as civilDateSchema,
  groundGeometry,
  id,
  instant,
  position,
} from './records/common.ts'
export * from './records/entry.ts'
export * from './records/import.ts'
export * from './records/judgement.ts'
export * from './records/place.ts'
export * from './records/probe.ts'
export * from './records/tree.ts'
export * from './records/visit.ts'
export * from './records/wind.ts'
export * from './refusal.ts'
export * from './units.ts'
export * from './words.ts'
