import type { WindMapping, WindUnit } from '@underbough/model'
import { isBlank } from '../cells.ts'
import { plainWords } from '../header-words.ts'
import { parseNumber } from '../numbers.ts'
import type { Table } from '../table-types.ts'
import { readDirection } from './direction.ts'
import { readTime } from './when.ts'

/** A mapping to start from. What the file does not say is null, for a person to say. */
export interface WindSuggestion {
  mapping: Omit<WindMapping, 'unit' | 'gust' | 'time' | 'timeZone'> & {
    unit: WindUnit | null
    gust: string | null
    time: WindMapping['time'] | null
    /** Null where cells do not state their own offset. */
    timeZone: string | null
  }
  /** Names in the station's column, where the file holds several; at most 50. */
  stations: string[]
}

interface Sample {
  name: string
  words: string
  filled: string[]
}

const SAMPLE_ROWS = 3000
const GUST =
  /\bgusts?\b|\bgst\b|\bwpgt\b|\bfxi?\d*\b|\bbo(e|ee|en)?\b|\brafales?\b|\brachas?\b|windsto(o)?t|spitzen?bo/
const DIRECTION =
  /\b(wind )?(dir|drct|direction|wdir|dd|wd)\b|windrichtung|direction du vent|direccion|windrichting/
const MEAN = /\b(wind )?(speed|spd|sknt|wspd|ff|fm|fh)\b|windgeschw|vitesse|velocidad|windsnelheid/
const STATION = /\b(station|origin|stn|site|stations id|standort|poste)\b|^(id|icao|code)$/
const unitWords: [WindUnit, RegExp][] = [
  ['mph', /\b(mph|mi h)\b/],
  ['kmh', /\b(kmh|kph|km h)\b/],
  ['kn', /\b(kn|kt|kts|knots?|sknt)\b/],
  ['mps', /\b(m s|mps|ms)\b/],
]

/** Guesses the columns of hourly weather by the words of the header and by what the cells hold. Units and time zones are never guessed. */
export function suggestWind(table: Table): WindSuggestion {
  const step = Math.max(1, Math.floor(table.rows.length / SAMPLE_ROWS))
  const rows = table.rows.filter((_, i) => i % step === 0)
  const columns = table.columns.map(({ name }, i): Sample => {
    const filled = rows.flatMap(({ cells }) => (isBlank(cells[i]) ? [] : [cells[i]!]))
    return { name, words: plainWords(name), filled }
  })
  const gust = columns.find((c) => GUST.test(c.words) && numbers(c))
  const direction = columns.find((c) => c !== gust && DIRECTION.test(c.words) && directions(c))
  const mean = columns.find((c) => c !== gust && c !== direction && MEAN.test(c.words) && numbers(c))
  const time = timeOf(columns)
  const zeros = direction?.filled ?? []
  const station = stationOf(columns)
  return {
    mapping: {
      time: time?.time ?? null,
      timeZone: time?.states ? 'UTC' : null,
      dayFirst: time?.dayFirst ?? true,
      gust: gust?.name ?? null,
      direction: direction?.name ?? null,
      mean: mean?.name ?? null,
      unit: unitOf(gust, mean),
      // A file that writes north as 360 means something else by 0.
      zeroIsNorth: zeros.includes('0') && !zeros.some((cell) => Number(cell) === 360),
      decimalComma: columns.some((c) => c.filled.some((cell) => /^-?\d+,\d+$/.test(cell))),
      station: station ? { column: station.name, value: station.names[0]! } : null,
    },
    stations: station?.names ?? [],
  }
}

const most = (c: Sample, test: (cell: string) => boolean) =>
  c.filled.length > 0 && c.filled.filter(test).length > c.filled.length * 0.8
const numbers = (c: Sample) => most(c, (cell) => parseNumber(cell, true) !== null)
const directions = (c: Sample) =>
  most(c, (cell) => readDirection(cell, true) !== null || /^(vrb|9\d\d)$/i.test(cell))

function unitOf(...columns: (Sample | undefined)[]): WindUnit | null {
  for (const column of columns) {
    const found = column && unitWords.find(([, words]) => words.test(column.words))
    if (found) return found[0]
  }
  return null
}

function timeOf(columns: Sample[]) {
  const stated = /(Z|UTC|GMT|[+-]\d{2}:?\d{2})$/i
  const withHour = (c: Sample, dayFirst: boolean) =>
    most(c, (cell) => /\d{1,2}:\d{2}|[T ]\d{1,2}|^\d{10,}/.test(cell) && readTime(cell, dayFirst) !== null)
  const one = columns.filter((c) => withHour(c, true) || withHour(c, false))
  const column =
    one.find((c) => most(c, (cell) => stated.test(cell) && readTime(cell, true) !== null)) ?? one[0]
  if (column)
    return {
      time: { kind: 'one' as const, column: column.name },
      states: most(column, (cell) => stated.test(cell)),
      dayFirst: withHour(column, true),
    }
  const named = (words: RegExp) => columns.find((c) => words.test(c.words))?.name
  const [year, month, day, hour] = [
    /^(year|jahr|annee|ano|yr)$/,
    /^(month|monat|mois|mes|mo)$/,
    /^(day|tag|jour|dia)$/,
    /^(hour|stunde|heure|hora|uur|hr)$/,
  ].map(named)
  if (year && month && day && hour)
    return { time: { kind: 'parts' as const, year, month, day, hour }, states: false, dayFirst: true }
  const date = columns.find((c) =>
    most(c, (cell) => readTime(cell, true) !== null || readTime(cell, false) !== null),
  )
  const clock = columns.find(
    (c) =>
      c !== date &&
      most(c, (cell) => /^\d{1,2}(:?\d{2})?(:\d{2})?$/.test(cell)) &&
      /time|hour|uhr|zeit|heure|hora|uur|tijd/.test(c.words),
  )
  if (!date || !clock) return null
  const dayFirst = most(date, (cell) => readTime(cell, true) !== null)
  return { time: { kind: 'two' as const, date: date.name, clock: clock.name }, states: false, dayFirst }
}

const MOST_STATIONS = 50
function stationOf(columns: Sample[]): { name: string; names: string[] } | null {
  for (const column of columns.filter((c) => STATION.test(c.words))) {
    const names = [...new Set(column.filled)]
    if (names.length > 1 && names.length <= MOST_STATIONS) return { name: column.name, names }
  }
  return null
}
