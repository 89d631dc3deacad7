/** The words, units and records that every other room speaks in. */
export * from './date.ts'
export * from './plane.ts'
export * from './refusal.ts'
export * from './units.ts'
export * from './words.ts'
