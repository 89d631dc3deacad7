/** Hourly weather to gusts: what to read, what became of each row, and the rose and history that follow. */
export { beaufortFromMps, beaufortOf } from './beaufort.ts'
export { FASTEST_MPS, readWind, type WindHour, type WindReading } from './read.ts'
export { type DayGust, type GustRose, roseOfGusts, strongestByDay, summaryOf } from './rose.ts'
export { suggestWind, type WindSuggestion } from './suggest.ts'
