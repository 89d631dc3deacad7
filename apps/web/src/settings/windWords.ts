import { beaufortOf } from '@underbough/exchange/wind'
import { type GustThreshold, mpsPer, type WindFile, type WindSummary } from '@underbough/model'
import { count, sayDate } from '../look/index.ts'

const one = (n: number) => n.toFixed(n < 10 ? 1 : 0)

/** A wind speed as people know it: `17 m/s (39 mph)`. */
export const sayWind = (mps: number) => `${one(mps)} m/s (${Math.round(mps / mpsPer.mph)} mph)`

/** What a steady wind of that speed does, where the scale says so. */
export function sayForce(mps: number): string {
  const { force, effect } = beaufortOf(mps)
  return `as a steady wind, force ${force} of the Beaufort scale${effect ? `: ${effect}` : ''}`
}

export const sayThreshold = (threshold: GustThreshold) =>
  threshold.kind === 'from'
    ? `gusts from ${sayWind(threshold.gustMps)} on`
    : `the strongest ${Math.round(threshold.share * 1000) / 10} % of all gusts`

const number = (n: number) => n.toLocaleString('en-GB')
const day = (instant: string) => sayDate(instant.slice(0, 10))

/** Labels and figures of what became of a file's rows, those that count first. */
export function summaryRows(summary: WindSummary): (readonly [string, string])[] {
  const rows: (readonly [string, string] | null)[] = [
    ['From and to', `${day(summary.from)} to ${day(summary.to)}`],
    ['Hours', number(summary.hours)],
    ['of them with a gust', number(summary.hoursWithGust)],
    ['without one: no gust, not a gust of 0', number(summary.hoursWithoutGust)],
    summary.rowsOfOtherStations > 0 ? ['Rows of other stations', number(summary.rowsOfOtherStations)] : null,
    [
      'Gaps',
      summary.gaps === 0 ? 'none' : `${number(summary.gaps)}, ${count(summary.hoursMissing, 'hour')} missing`,
    ],
    ['Set aside, instrument at fault', number(summary.setAside)],
    ['Strongest gust', sayWind(summary.strongestMps)],
    summary.strongFromMps === null
      ? null
      : [
          'Strong gusts, with a direction',
          `${count(summary.strongHours, 'hour')} on ${count(summary.strongDays, 'day')}`,
        ],
  ]
  return rows.filter((row) => row !== null)
}

/** Where, how far, and over how many seconds: what every figure of wind must say. */
export const sayStation = ({ station, distanceKm, averagingSeconds }: WindFile) =>
  `${station}, ${distanceKm} km from the site; gusts ${averagingSeconds === null ? 'over a time not known' : `over ${averagingSeconds} s`}`
