import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { gunzipSync } from 'node:zlib'
import { readTable, type Table } from '@underbough/exchange'
import {
  beaufortFromMps,
  beaufortOf,
  FASTEST_MPS,
  readWind,
  roseOfGusts,
  strongestByDay,
  suggestWind,
  summaryOf,
  type WindReading,
} from '@underbough/exchange/wind'
import { mpsPer, type Outcome, type WindMapping } from '@underbough/model'
import { describe, expect, it } from 'vitest'

function taken<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.refusals.map(({ message }) => message).join(' '))
  return outcome.value
}
const notesOf = (outcome: Outcome<unknown>) => (outcome.ok ? outcome.notes : outcome.refusals)
const tableOf = (text: string | Uint8Array) =>
  taken(readTable(typeof text === 'string' ? new TextEncoder().encode(text) : text, 'weather.csv'))

const plain: WindMapping = {
  time: { kind: 'one', column: 'time' },
  timeZone: 'UTC',
  dayFirst: true,
  gust: 'gust',
  direction: 'from',
  mean: null,
  unit: 'mps',
  zeroIsNorth: false,
  decimalComma: false,
  station: null,
}
const rows = (...lines: string[]) => tableOf(['time,from,gust', ...lines].join('\n'))

describe('units', () => {
  // Source: the international mile is 1609.344 m, the international nautical mile 1852 m (SI Brochure, non-SI units), both exact.
  it('are exact', () => {
    expect(mpsPer.mph).toBeCloseTo(0.44704, 12)
    expect(mpsPer.kn).toBeCloseTo(1852 / 3600, 12)
    expect(100 * mpsPer.kmh).toBeCloseTo(27.777777777777, 9)
  })

  // Source: World Meteorological Organization, information note 58 (2010): 408 km/h at Barrow Island, 10 April 1996.
  it('set aside only what is faster than any gust measured on the ground', () => {
    expect(FASTEST_MPS * 3.6).toBeCloseTo(408, 9)
    const read = readWind(
      rows('2025-01-01 00:00,270,113.3', '2025-01-01 01:00,270,113.4', '2025-01-01 02:00,270,-1'),
      plain,
    )
    expect(taken(read).counts).toMatchObject({ setAside: 2, hoursWithGust: 1, hoursWithoutGust: 2 })
    expect(notesOf(read).map(({ code }) => code)).toEqual(['wind-fault'])
  })
})

describe('the Beaufort scale', () => {
  // Source: https://docslib.org/doc/7035220: miles per hour by force, and knots for forces 7 to 12.
  it.each([
    [0, 0, 0],
    [1, 1, 3],
    [2, 4, 7],
    [3, 8, 12],
    [4, 13, 18],
    [5, 19, 24],
    [6, 25, 31],
    [7, 32, 38],
    [8, 39, 46],
    [9, 47, 54],
    [10, 55, 63],
    [11, 64, 73],
    [12, 75, 200],
  ])('force %i is %i to %i mph', (force, from, to) => {
    for (const mph of [from, to]) expect(beaufortOf(mph * mpsPer.mph).force).toBe(force)
  })
  it.each([
    [7, 28, 33],
    [8, 34, 40],
    [9, 41, 47],
    [10, 48, 55],
    [11, 56, 63],
  ])('force %i is %i to %i knots', (force, from, to) => {
    for (const knots of [from, to]) expect(beaufortOf(knots * mpsPer.kn).force).toBe(force)
  })

  // Source: v = 0.836 B^1.5 m/s, the scale's formula, from memory: the middle of each force.
  it('has the formula’s speed in every force', () => {
    for (let force = 1; force <= 11; force++) expect(beaufortOf(0.836 * force ** 1.5).force).toBe(force)
    expect(beaufortFromMps(8)).toBeCloseTo(39 * 0.44704, 9)
  })
})

describe('hours as files write them', () => {
  const hourOf = (cell: string, changes: Partial<WindMapping> = {}) => {
    const read = readWind(rows(`${cell},270,20`), { ...plain, ...changes })
    return read.ok ? new Date(read.value.hours[0]!.atMs).toISOString().slice(0, 16) : read.refusals[0]!.code
  }
  // Source: ISO 8601 for the first rows; the rest are ways of weather services, common practice without a source.
  it.each([
    ['2025-07-01T13:51Z', {}, '2025-07-01T13:00'],
    ['2025-07-01T13:51:00+02:00', {}, '2025-07-01T11:00'],
    ['2025-07-01 13', {}, '2025-07-01T13:00'],
    ['2025070113', {}, '2025-07-01T13:00'],
    ['202507011351', {}, '2025-07-01T13:00'],
    ['01.07.2025 13:51', {}, '2025-07-01T13:00'],
    ['07/01/2025 1:51 PM', { dayFirst: false }, '2025-07-01T13:00'],
    ['2025-07-01 24:00', {}, '2025-07-02T00:00'],
    ['2025-07-01 13:00', { timeZone: 'Europe/Berlin' }, '2025-07-01T11:00'],
    ['2025-01-01 13:00', { timeZone: 'Europe/Berlin' }, '2025-01-01T12:00'],
    ['2025-07-01 13:00', { timeZone: 'Asia/Kolkata' }, '2025-07-01T07:00'],
    ['31/02/2025 13:00', {}, 'hour-unreadable'],
    ['2025-07-01 25:00', {}, 'hour-unreadable'],
    ['2025-07-01 13:00', { timeZone: 'Maud/Sound' }, 'unknown'],
  ] as const)('%s', (cell, changes, expected) => {
    expect(hourOf(cell, changes)).toBe(expected)
  })

  // Source: clocks in New York were put forward on 10 March 2013 at 2:00 and back on 3 November at 2:00 (Energy Policy Act of 2005).
  it('knows the hour that is there twice and the one that never was', () => {
    const of = (...times: string[]) =>
      taken(
        readWind(rows(...times.map((time) => `${time},270,20`)), { ...plain, timeZone: 'America/New_York' }),
      )
    const back = of('2013-11-03 00:00', '2013-11-03 01:00', '2013-11-03 01:00', '2013-11-03 02:00')
    expect(back.hours.map(({ atMs }) => new Date(atMs).toISOString().slice(11, 16))).toEqual([
      '04:00',
      '05:00',
      '06:00',
      '07:00',
    ])
    expect(back.gaps).toEqual([])
    const forward = of('2013-03-10 01:00', '2013-03-10 02:00', '2013-03-10 03:00')
    expect([forward.hours.length, forward.counts.skipped, forward.gaps.length]).toEqual([2, 1, 0])
  })

  it('gives the strongest gust to the civil day at the site, not to the day of UTC', () => {
    const { hours } = taken(readWind(rows('2025-01-01 23:00,270,20', '2025-01-02 01:00,90,25'), plain))
    expect(strongestByDay(hours, 'UTC').map(({ on }) => on)).toEqual(['2025-01-01', '2025-01-02'])
    expect(strongestByDay(hours, 'Europe/Berlin')).toMatchObject([
      { on: '2025-01-02', gustMps: 25, fromDeg: 90 },
    ])
  })
})

describe('a rose of strong gusts', () => {
  const hourly = (...reports: [from: string, gust: number][]) =>
    taken(
      readWind(
        rows(
          ...reports.map(
            ([from, gust], i) => `${new Date(Date.UTC(2025, 0, 1, i)).toISOString()},${from},${gust}`,
          ),
        ),
        plain,
      ),
    ).hours

  it('says where gusts come from: a westerly lies at 270 degrees, the thirteenth of sixteen', () => {
    const { rose } = roseOfGusts(hourly(['270', 20], ['W', 20]), { kind: 'from', gustMps: 15 }, 'UTC')
    expect(rose!.map((share) => Number(share.toFixed(6)))[12]).toBeCloseTo(1, 6)
  })

  // By symmetry: as many reports from every ten degrees are the same wind from everywhere, whatever the sixteen directions hold.
  it('is round where reports in tens of degrees come evenly from all around', () => {
    const all = Array.from({ length: 36 }, (_, i): [string, number] => [String((i + 1) * 10), 20])
    for (const share of roseOfGusts(hourly(...all), { kind: 'from', gustMps: 15 }, 'UTC').rose!)
      expect(share).toBeCloseTo(1 / 16, 12)
  })

  // By definition: 16 compass points of 22.5 degrees, each centred on its bearing.
  it('puts a report of whole degrees to the nearest point of the compass', () => {
    for (const [from, point] of [
      ['11', 0],
      ['12', 1],
      ['349', 0],
      ['348', 15],
      ['101', 4],
      ['102', 5],
    ] as const) {
      const { rose } = roseOfGusts(hourly([from, 20], ['77', 1]), { kind: 'from', gustMps: 15 }, 'UTC')
      expect(rose!.indexOf(1)).toBe(point)
    }
  })

  it('takes no direction for variable, missing or calm, and 0 for north only where the file says so', () => {
    const read = (zeroIsNorth: boolean) =>
      taken(
        readWind(
          rows(
            '2025-01-01 00:00,VRB,20',
            '2025-01-01 01:00,990,20',
            '2025-01-01 02:00,NA,20',
            '2025-01-01 03:00,0,20',
          ),
          {
            ...plain,
            zeroIsNorth,
          },
        ),
      ).counts.gustsWithoutDirection
    expect([read(false), read(true)]).toEqual([4, 3])
  })

  it('takes the strongest share of gusts', () => {
    const hours = hourly(['90', 30], ['270', 20], ['270', 19], ['270', 18])
    const found = roseOfGusts(hours, { kind: 'share', share: 0.25 }, 'UTC')
    expect([found.hours, found.fromMps]).toEqual([1, 30])
  })
})

const file = fileURLToPath(new URL('../../../shared/data/wind/nyc-2013-hourly.csv.gz', import.meta.url))

// Source: hourly weather at three airports in 2013 (CC0), in mph. Counts of rows, gusts, gaps and repeated hours were made apart
// by a plain script over the file; the description of the data names the 45 gaps, the 1048 and the storm of 31 January.
describe.skipIf(!existsSync(file))('a year of three stations', () => {
  const stations = ['EWR', 'JFK', 'LGA'] as const
  let table: Table | null = null
  const all = () => {
    table ??= tableOf(gunzipSync(readFileSync(file)))
    return table
  }
  const mapping = (station: string): WindMapping => ({
    time: { kind: 'one', column: 'time_hour' },
    timeZone: 'UTC',
    dayFirst: true,
    gust: 'wind_gust',
    direction: 'wind_dir',
    mean: 'wind_speed',
    unit: 'mph',
    zeroIsNorth: false,
    decimalComma: false,
    station: { column: 'origin', value: station },
  })
  const readings = new Map<string, Outcome<WindReading>>()
  const of = (station: string) => {
    if (!readings.has(station)) readings.set(station, readWind(all(), mapping(station)))
    return readings.get(station)!
  }

  it('is guessed column by column, and neither its unit nor its station is taken for granted', () => {
    const { mapping: guessed, stations: named } = suggestWind(all())
    expect(guessed).toEqual({ ...mapping('EWR'), unit: null })
    expect(named).toEqual([...stations])
  })

  it.each([
    ['EWR', 8703, 1802, 17, 27, 1, 7, 58.68978],
    ['JFK', 8706, 1507, 14, 24, 0, 0, 66.74524],
    ['LGA', 8706, 2028, 14, 24, 0, 6, 62.14212],
  ])('%s: %i hours, %i gusts, %i gaps', (station, hours, gusts, gaps, missing, faults, bare, mph) => {
    const read = taken(of(station))
    expect(read.hours).toHaveLength(hours)
    expect(read.counts).toMatchObject({
      hoursWithGust: gusts,
      hoursWithoutGust: hours - gusts,
      setAside: faults,
      repeated: 0,
      unreadable: 0,
      gustsWithoutDirection: bare,
    })
    const rose = roseOfGusts(read.hours, { kind: 'from', gustMps: 39 * mpsPer.mph }, 'America/New_York')
    const summary = summaryOf(read, rose, [])
    expect([summary.gaps, summary.hoursMissing]).toEqual([gaps, missing])
    expect(summary.strongestMps / mpsPer.mph).toBeCloseTo(mph, 4)
  })

  it('reports 45 gaps in all, and the fault of 1048 mph by its line', () => {
    expect(stations.reduce((sum, station) => sum + taken(of(station)).gaps.length, 0)).toBe(45)
    const fault = notesOf(of('EWR')).find(({ code }) => code === 'wind-fault')!
    expect(fault.message).toContain('1048.36058')
    expect(fault.limit).toContain('408 km/h')
  })

  it('has the storm of 31 January in its history, with the gusts that are on record', () => {
    for (const [station, mph] of [
      ['EWR', 58.7],
      ['LGA', 62.1],
    ] as const) {
      const day = strongestByDay(taken(of(station)).hours, 'America/New_York').find(
        ({ on }) => on === '2013-01-31',
      )!
      expect(day.gustMps / mpsPer.mph).toBeCloseTo(mph, 1)
    }
  })

  // The file says each hour twice: as an instant, and as year, month, day and hour of the clock on the wall.
  it('reads the same hours from the clock on the wall as from the instants, over both changes of the clock', () => {
    for (const station of stations) {
      const wall = readWind(all(), {
        ...mapping(station),
        time: { kind: 'parts', year: 'year', month: 'month', day: 'day', hour: 'hour' },
        timeZone: 'America/New_York',
      })
      expect(taken(wall).hours).toEqual(taken(of(station)).hours)
    }
  })

  // Another way to the same rose: a thousand directions within each report's ten degrees, each to the nearest of sixteen.
  it('gives the rose that a thousand directions for each report give', () => {
    const { hours } = taken(of('JFK'))
    const limit = 39 * mpsPer.mph
    const { rose, hours: strong } = roseOfGusts(hours, { kind: 'from', gustMps: limit }, 'UTC')
    expect(strong).toBe(75)
    const counts = Array.from({ length: 16 }, () => 0)
    for (const { gustMps, fromDeg } of hours) {
      if (gustMps === null || gustMps < limit - 1e-9) continue
      for (let i = 0; i < 1000; i++) {
        const direction = fromDeg! - 5 + (i + 0.5) / 100
        counts[((Math.round(direction / 22.5) % 16) + 16) % 16]! += 1 / 1000 / strong
      }
    }
    for (let i = 0; i < 16; i++) expect(rose![i]).toBeCloseTo(counts[i]!, 4)
  })
})
