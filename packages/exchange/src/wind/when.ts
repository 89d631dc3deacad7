import type { WindMapping } from '@underbough/model'
import type { Table } from '../table-types.ts'
import type { WallClock } from './clock.ts'

/** A civil time as if it were UTC, and the offset that the cell states, where it states one. */
interface Read {
  wallMs: number
  offsetMinutes: number | null
}

const ISO =
  /^(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ]+(\d{1,2})(?::?(\d{2}))?(?::(\d{2})(?:\.\d+)?)?)?\s*(Z|UTC|GMT|[+-]\d{2}:?\d{2})?$/i
const PARTED =
  /^(\d{1,2})[./-](\d{1,2})[./-](\d{4})(?:[T, ]+(\d{1,2})(?::(\d{2}))?(?::\d{2})?)?\s*(am|pm)?\s*(Z|UTC|GMT)?$/i
const PACKED = /^((?:19|20)\d{2})(\d{2})(\d{2})[T ]?(\d{2})(\d{2})?(?:\d{2})?Z?$/

/** Day and clock time of a cell in one of the ways that weather files write it; null for anything else. */
export function readTime(cell: string, dayFirst: boolean): Read | null {
  const text = cell.trim()
  const iso = ISO.exec(text)
  if (iso) return civil(iso[1]!, iso[2]!, iso[3]!, iso[4], iso[5], offsetOf(iso[7]))
  const packed = PACKED.exec(text)
  if (packed)
    return civil(packed[1]!, packed[2]!, packed[3]!, packed[4], packed[5], text.endsWith('Z') ? 0 : null)
  const parted = PARTED.exec(text)
  if (!parted) return null
  const [day, month] = dayFirst ? [parted[1]!, parted[2]!] : [parted[2]!, parted[1]!]
  return civil(parted[3]!, month, day, halfDay(parted[4], parted[6]), parted[5], offsetOf(parted[7]))
}

const offsetOf = (stated: string | undefined): number | null => {
  if (!stated) return null
  const parts = /^([+-])(\d{2}):?(\d{2})$/.exec(stated)
  return parts ? (parts[1] === '-' ? -1 : 1) * (Number(parts[2]) * 60 + Number(parts[3])) : 0
}

function halfDay(hour: string | undefined, half: string | undefined): string | undefined {
  if (!half || hour === undefined) return hour
  const twelve = Number(hour) % 12
  return String(half.toLowerCase() === 'pm' ? twelve + 12 : twelve)
}

/** Hour 24 is the next day's hour 0, as many services write it. */
function civil(
  year: string,
  month: string,
  day: string,
  hour = '0',
  minute = '0',
  offsetMinutes: number | null,
): Read | null {
  const [y, mo, d, h, mi] = [year, month, day, hour, minute].map(Number) as [
    number,
    number,
    number,
    number,
    number,
  ]
  const wallMs = Date.UTC(y, mo - 1, d, h, mi)
  const noon = new Date(Date.UTC(y, mo - 1, d, 12))
  if (noon.getUTCMonth() !== mo - 1 || noon.getUTCDate() !== d || h > 24 || mi > 59) return null
  return { wallMs, offsetMinutes }
}

/** What a row says of its hour: an instant, a clock time that never was, or nothing readable. */
export type When = number | 'skipped' | null

/**
 * Reads the hour of a row after another: in the hour that clocks are put back twice, the second row of it is the later one.
 * Columns are known to exist.
 */
export function whenReader(
  table: Table,
  { time, dayFirst }: WindMapping,
  clock: WallClock,
): (cells: readonly string[]) => When {
  const at = (name: string) => table.columns.findIndex((column) => column.name === name)
  const textOf = ((): ((cells: readonly string[]) => string) => {
    if (time.kind === 'one') {
      const column = at(time.column)
      return (cells) => cells[column]!
    }
    if (time.kind === 'two') {
      const [date, of] = [at(time.date), at(time.clock)]
      return (cells) => `${cells[date]!.split(/[T ]/)[0]} ${clockText(cells[of]!)}`
    }
    const [year, month, day, hour] = [at(time.year), at(time.month), at(time.day), at(time.hour)]
    return (cells) => `${cells[year]}-${cells[month]}-${cells[day]} ${clockText(cells[hour]!)}`
  })()
  const seen = new Set<number>()
  return (cells) => {
    const read = readTime(textOf(cells), dayFirst)
    if (!read) return null
    if (read.offsetMinutes !== null) return read.wallMs - read.offsetMinutes * 60_000
    const instants = clock.instantsOf(read.wallMs)
    const found = instants.find((instant) => !seen.has(instant)) ?? instants[0]
    if (found === undefined) return 'skipped'
    if (instants.length > 1) seen.add(found)
    return found
  }
}

/** `1`, `100`, `0100` and `1:00` as a clock writes them. */
function clockText(cell: string): string {
  const bare = /^(\d{1,2})(\d{2})$/.exec(cell.trim())
  return bare && cell.trim().length > 2 ? `${bare[1]}:${bare[2]}` : cell.trim()
}
