import { done, mpsPer, type Outcome, type Refusal, refused, type WindMapping } from '@underbough/model'
import { isBlank } from '../cells.ts'
import { say } from '../codes.ts'
import { parseNumber } from '../numbers.ts'
import type { Table } from '../table-types.ts'
import { wallClock } from './clock.ts'
import { readDirection } from './direction.ts'
import { type When, whenReader } from './when.ts'

const HOUR_MS = 3_600_000

/**
 * No wind on the ground was ever measured above this outside a tornado: 408 km/h, Barrow Island, 10 April 1996 (World
 * Meteorological Organization, information note 58, 2010).
 */
export const FASTEST_MPS = 408 / 3.6

/** One hour of wind at a station. */
export interface WindHour {
  /** The hour's beginning, milliseconds since 1970 UTC. */
  atMs: number
  /** The strongest gust reported in it; null where none was: that is not a gust of 0. */
  gustMps: number | null
  /** Where that gust came from, degrees; null for variable or not known. */
  fromDeg: number | null
}

export interface WindReading {
  /** In their order, each hour once. */
  hours: WindHour[]
  counts: {
    rows: number
    rowsOfOtherStations: number
    hoursWithGust: number
    hoursWithoutGust: number
    setAside: number
    repeated: number
    unreadable: number
    skipped: number
    wordsForNumbers: number
    gustsWithoutDirection: number
  }
  gaps: { afterMs: number; beforeMs: number; hours: number }[]
}

/** Above this share of rows that cannot be read the columns were taken for others (Assumption). */
const UNREADABLE_SHARE = 0.5

const columnsOf = ({ time, gust, direction, mean, station }: WindMapping): [path: string, name: string][] => [
  ...Object.entries(time).flatMap(([key, name]): [string, string][] =>
    key === 'kind' ? [] : [[`time.${key}`, name]],
  ),
  ['gust', gust],
  ...(direction ? [['direction', direction] as [string, string]] : []),
  ...(mean ? [['mean', mean] as [string, string]] : []),
  ...(station ? [['station.column', station.column] as [string, string]] : []),
]

/**
 * Hourly weather to hours of gusts. A blank gust is no gust. A wind speed below 0 or above `FASTEST_MPS`, gust or mean, is an
 * instrument at fault: the row's wind is set aside and its hour stays. Of several rows in one hour the strongest gust counts.
 * @returns the hours with notes on what was set aside, repeated, skipped or is missing; refused with `column-missing`,
 * `unknown` for a time zone, `hour-unreadable` or `number-unreadable` where most rows say nothing, and `gusts-none`
 */
export function readWind(table: Table, mapping: WindMapping): Outcome<WindReading> {
  const known = new Set(table.columns.map(({ name }) => name))
  const missing = columnsOf(mapping).filter(([, name]) => !known.has(name))
  if (missing.length > 0)
    return refused(
      ...missing.map(([path, name]) =>
        say('column-missing', `mapping.${path}`, `The file has no column “${name}”.`, { value: name }),
      ),
    )
  const clock = wallClock(mapping.timeZone)
  if (!clock)
    return refused(
      say(
        'unknown',
        'mapping.timeZone',
        `No time zone is named “${mapping.timeZone}”. A name looks like Atlantic/St_Helena; UTC is one too.`,
        { value: mapping.timeZone },
      ),
    )
  const taken = new Rows(table, mapping)
  const when = whenReader(table, mapping, clock)
  for (const { line, cells } of table.rows) taken.add(line, cells, when)
  return taken.result()
}

/** Takes row after row and counts what becomes of each. */
class Rows {
  private readonly byHour = new Map<number, WindHour>()
  private readonly counts: WindReading['counts'] = {
    rows: 0,
    rowsOfOtherStations: 0,
    hoursWithGust: 0,
    hoursWithoutGust: 0,
    setAside: 0,
    repeated: 0,
    unreadable: 0,
    skipped: 0,
    wordsForNumbers: 0,
    gustsWithoutDirection: 0,
  }
  private readonly faults: string[] = []
  private firstUnreadable = 0
  private readonly at: Record<'gust' | 'direction' | 'mean' | 'station', number>

  constructor(
    table: Table,
    private readonly mapping: WindMapping,
  ) {
    const place = (name: string | null | undefined) => table.columns.findIndex((c) => c.name === name)
    this.at = {
      gust: place(mapping.gust),
      direction: place(mapping.direction),
      mean: place(mapping.mean),
      station: place(mapping.station?.column),
    }
  }

  add(line: number, cells: readonly string[], when: (cells: readonly string[]) => When) {
    const { counts, mapping, at } = this
    counts.rows++
    if (mapping.station && cells[at.station] !== mapping.station.value) {
      counts.rowsOfOtherStations++
      return
    }
    const instant = when(cells)
    if (instant === 'skipped') {
      counts.skipped++
      return
    }
    if (instant === null) {
      if (counts.unreadable++ === 0) this.firstUnreadable = line
      return
    }
    const atMs = Math.floor(instant / HOUR_MS) * HOUR_MS
    const gustMps = this.gustOf(line, cells)
    const fromDeg =
      gustMps === null || at.direction < 0 ? null : readDirection(cells[at.direction]!, mapping.zeroIsNorth)
    const before = this.byHour.get(atMs)
    if (before) counts.repeated++
    if (!before || (gustMps !== null && gustMps > (before.gustMps ?? -1)))
      this.byHour.set(atMs, { atMs, gustMps, fromDeg })
  }

  /** The row's gust, null where none was reported or the instrument was at fault. */
  private gustOf(line: number, cells: readonly string[]): number | null {
    const gust = this.speed(cells[this.at.gust])
    const mean = this.at.mean < 0 ? null : this.speed(cells[this.at.mean])
    const fault = [gust, mean].find((mps) => mps !== null && (mps < 0 || mps > FASTEST_MPS))
    if (fault === undefined || fault === null) return gust
    this.counts.setAside++
    const cell = fault === gust ? cells[this.at.gust] : cells[this.at.mean]
    if (this.faults.length < 3) this.faults.push(`${cell} in line ${line}`)
    return null
  }

  private speed(cell: string | undefined): number | null {
    if (isBlank(cell)) return null
    const value = parseNumber(cell!, this.mapping.decimalComma)
    if (value === null) {
      this.counts.wordsForNumbers++
      return null
    }
    return value * mpsPer[this.mapping.unit]
  }

  result(): Outcome<WindReading> {
    const { counts, mapping } = this
    const own = counts.rows - counts.rowsOfOtherStations
    const refusal = this.whyNot(own)
    if (refusal) return refused(refusal)
    const hours = [...this.byHour.values()].sort((a, b) => a.atMs - b.atMs)
    for (const { gustMps, fromDeg } of hours) {
      if (gustMps === null) counts.hoursWithoutGust++
      else counts.hoursWithGust++
      if (gustMps !== null && fromDeg === null) counts.gustsWithoutDirection++
    }
    if (counts.hoursWithGust === 0)
      return refused(
        say('gusts-none', 'mapping.gust', `The column “${mapping.gust}” holds no gust in ${own} rows.`, {
          value: mapping.gust,
        }),
      )
    const gaps = gapsIn(hours)
    return done({ hours, counts, gaps }, this.notes(gaps))
  }

  private whyNot(own: number): Refusal | null {
    const { counts, mapping, firstUnreadable } = this
    if (own === 0)
      return say(
        'unknown',
        'mapping.station.value',
        `No row is of the station “${mapping.station?.value}”.`,
        { value: mapping.station?.value },
      )
    if (counts.unreadable > own * UNREADABLE_SHARE)
      return say(
        'hour-unreadable',
        'mapping.time',
        `${counts.unreadable} of ${own} rows do not say when they were, first in line ${firstUnreadable}. Choose the columns of day and hour again.`,
        { value: counts.unreadable, limit: 'at most half of the rows' },
      )
    if (counts.wordsForNumbers > own * UNREADABLE_SHARE)
      return say(
        'number-unreadable',
        'mapping.gust',
        `${counts.wordsForNumbers} cells for wind hold words, not numbers. Choose the columns again.`,
        { value: counts.wordsForNumbers, limit: 'at most half of the rows' },
      )
    return null
  }

  private notes(gaps: WindReading['gaps']): Refusal[] {
    const { counts } = this
    const note = (count: number, made: () => Refusal) => (count > 0 ? [made()] : [])
    const missing = gaps.reduce((sum, gap) => sum + gap.hours, 0)
    return [
      ...note(counts.setAside, () =>
        say(
          'wind-fault',
          'mapping.gust',
          `${many(counts.setAside, 'wind speed')} set aside, an instrument at fault: ${this.faults.join(', ')}.`,
          {
            value: counts.setAside,
            limit: '0 to 408 km/h (253 mph), the strongest gust measured on the ground',
          },
        ),
      ),
      ...note(gaps.length, () =>
        say(
          'hours-missing',
          'mapping.time',
          `${many(missing, 'hour')} missing in ${many(gaps.length, 'gap')}.`,
          {
            value: gaps.length,
          },
        ),
      ),
      ...note(counts.repeated, () =>
        say(
          'hour-repeated',
          'mapping.time',
          `${many(counts.repeated, 'row')} of an hour that had one already; the strongest gust of each hour counts.`,
          { value: counts.repeated },
        ),
      ),
      ...note(counts.skipped, () =>
        say(
          'hour-skipped',
          'mapping.timeZone',
          `${many(counts.skipped, 'row')} at a clock time that never was, because clocks were put forward. Perhaps the file is in another time zone.`,
          { value: counts.skipped },
        ),
      ),
      ...note(counts.unreadable, () =>
        say(
          'hour-unreadable',
          'mapping.time',
          `${many(counts.unreadable, 'row')} without a readable hour, first in line ${this.firstUnreadable}.`,
          {
            value: counts.unreadable,
          },
        ),
      ),
      ...note(counts.wordsForNumbers, () =>
        say(
          'number-unreadable',
          'mapping.gust',
          `${many(counts.wordsForNumbers, 'cell')} for wind with words, taken for no gust.`,
          {
            value: counts.wordsForNumbers,
          },
        ),
      ),
      ...note(counts.gustsWithoutDirection, () =>
        say(
          'gust-without-direction',
          'mapping.direction',
          `${many(counts.gustsWithoutDirection, 'gust')} without a direction: in the history, not in the rose.`,
          { value: counts.gustsWithoutDirection },
        ),
      ),
    ]
  }
}

const many = (n: number, one: string) => `${n.toLocaleString('en-GB')} ${one}${n === 1 ? '' : 's'}`

/** Where more than one hour lies between two hours. */
function gapsIn(hours: readonly WindHour[]): WindReading['gaps'] {
  return hours.slice(1).flatMap(({ atMs }, i) => {
    const afterMs = hours[i]!.atMs
    const missing = (atMs - afterMs) / HOUR_MS - 1
    return missing > 0 ? [{ afterMs, beforeMs: atMs, hours: missing }] : []
  })
}
