import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readTrace, traceLimits } from './read.ts'
import { sniffTrace } from './sniff.ts'
import type { TraceColumns } from './types.ts'

const mm: TraceColumns = { depthUnit: 'mm', depthColumn: 0, resistanceColumn: 1 }

/** `count` rows; depth in steps of half a unit, resistance 20.5 and up. */
const rows = (count: number, between = ';', mark = '.') =>
  Array.from({ length: count }, (_, i) =>
    [(i / 2).toFixed(1), (20.5 + i).toFixed(1)].map((cell) => cell.replace('.', mark)).join(between),
  )

function read(raw: string, columns = mm) {
  const outcome = readTrace(raw, columns)
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome
}

function faults(raw: string, columns = mm) {
  const outcome = readTrace(raw, columns)
  return outcome.ok ? [] : outcome.refusals.map(({ code, path, value }) => [code, path, value])
}

function guess(raw: string) {
  const outcome = sniffTrace(raw)
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome.value
}

describe('the layout of a text', () => {
  it.each([
    [';', ','],
    [';', '.'],
    ['\t', ','],
    ['|', '.'],
    [' | ', ','],
    ['  ', ','],
    [' ', '.'],
    [',', '.'],
    [', ', '.'],
  ])('is seen with %j between the columns and %j in the numbers', (between, mark) => {
    const raw = rows(30, between, mark).join('\n')
    const { delimiter, decimalMark } = guess(raw)
    expect([delimiter, decimalMark]).toEqual([between.trim() || (between === '\t' ? '\t' : 'spaces'), mark])
    expect(read(raw).value.resistances[3]).toBe(23.5)
  })

  it('lets quoted numbers hold commas between commas, and refuses those without quotes', () => {
    const quoted = rows(30, '","', ',').map((row) => `"${row}"`)
    expect(read(quoted.join('\n')).value.depthsCm[29]).toBeCloseTo(1.45, 9)
    expect(faults(rows(30, ',', ',').join('\n'))).toEqual([['file-not-this-format', 'raw', undefined]])
  })

  it('passes over a header, comments and a mark of byte order, and finds the columns by their names', () => {
    const raw = [
      '\uFEFF# Port Maud, lime at the quay',
      'Taken on;2026-03-04',
      'No;Resistance [%];Depth (cm)',
      ...rows(30).map((row, i) => {
        const [depth, resistance] = row.split(';')
        return `${i + 1};${resistance};${depth}`
      }),
      '',
      ';;',
    ].join('\r\n')
    expect(guess(raw)).toEqual({
      delimiter: ';',
      decimalMark: '.',
      headerRows: 3,
      columns: ['No', 'Resistance [%]', 'Depth (cm)'],
      depthColumn: 2,
      resistanceColumn: 1,
      depthUnit: 'cm',
      resistanceUnit: '%',
      rows: 30,
    })
    const { value } = read(raw, { depthUnit: 'cm', depthColumn: 2, resistanceColumn: 1 })
    expect([value.depthsCm[29], value.resistances[29]]).toEqual([14.5, 49.5])
  })

  it('takes a row of units under the names, and a column that rises for the depth where none is named', () => {
    expect(guess(['depth;resistance', 'in;%', ...rows(30)].join('\n'))).toMatchObject({
      depthUnit: 'in',
      resistanceUnit: '%',
      headerRows: 2,
    })
    const unnamed = rows(30).map((row, i) => `${i + 1};${[3, 7, 5][i % 3]};${row.split(';')[0]}`)
    expect(guess(unnamed.join('\n'))).toMatchObject({ depthColumn: 2, resistanceColumn: 1, depthUnit: null })
  })

  it('knows an inch for 2.54 cm', () => {
    expect(read(rows(30).join('\n'), { ...mm, depthUnit: 'in' }).value.depthsCm[2]).toBeCloseTo(2.54, 12)
  })
})

describe('a row that cannot be read', () => {
  const withRow = (at: number, row: string, all = rows(30)) =>
    [...all.slice(0, at), row, ...all.slice(at + 1)].join('\n')

  it.each([
    ['8.0;oak', 'trace-text', 'oak'],
    ['8.0;NaN', 'trace-text', 'NaN'],
    ['8.0;Infinity', 'trace-text', 'Infinity'],
    ['8.0;1.2.3', 'number-unreadable', '1.2.3'],
    ['8.0;0x1F', 'number-unreadable', '0x1F'],
    ['8.0;', 'trace-resistance-missing', ''],
    ['8.0', 'trace-resistance-missing', ''],
    [';36.5', 'trace-text', ''],
    ['-8.0;36.5', 'out-of-range', '-8.0'],
    ['6000.5;36.5', 'out-of-range', '6000.5'],
    ['8.0;1e300', 'out-of-range', '1e300'],
    ['7.0;36.5', 'trace-depth-backwards', '7.0'],
  ])('%j is refused with %s', (row, code, value) => {
    expect(faults(withRow(16, row))[0]).toEqual([code, 'row 17', value])
  })

  it('has a point among decimal commas: thousands or a slip, nobody can say', () => {
    expect(faults(withRow(16, '8,0;1.234', rows(30, ';', ',')))).toEqual([
      ['number-unreadable', 'row 17', '1.234'],
    ])
  })

  it('is told with the first twenty of its kind', () => {
    const bad = rows(60).map((row, i) => (i >= 10 && i < 50 ? row.replace(/;.*/, ';?') : row))
    const told = faults(bad.join('\n'))
    expect(told).toHaveLength(20)
    expect(told[0]).toEqual(['trace-text', 'row 11', '?'])
    expect(told[19]).toEqual(['trace-text', 'row 30', '?'])
  })

  it('has a cell too many between commas, which may be a decimal comma', () => {
    expect(faults(withRow(16, '8,0,36.5', rows(30, ',')))).toEqual([['column-count', 'row 17', 3]])
  })
})

describe('a trace', () => {
  it('has one point where the drill stood still, with the mean, and says so', () => {
    const still = [...rows(30).slice(0, 10), '4.5;10', '4.5;50', ...rows(30).slice(10)]
    const { value, notes } = read(still.join('\n'))
    expect(value.depthsCm).toHaveLength(30)
    expect(value.resistances[9]).toBeCloseTo((29.5 + 10 + 50) / 3, 9)
    expect(notes.map(({ code, value }) => [code, value])).toEqual([['trace-depth-repeated', 2]])
  })

  it('is refused when it is empty, one column, no numbers, too short, too long, or of the same column twice', () => {
    expect(faults('')).toEqual([['file-empty', 'raw', undefined]])
    expect(faults('\n\n# nothing\n')).toEqual([['file-empty', 'raw', undefined]])
    expect(faults('1\n2\n3\n4\n')).toEqual([['trace-one-column', 'raw', undefined]])
    expect(faults('a lime\nby the quay\n')).toEqual([['file-not-this-format', 'raw', undefined]])
    expect(faults(rows(19).join('\n'))).toEqual([['trace-too-short', 'raw', 19]])
    expect(faults(rows(30).join('\n'), { ...mm, resistanceColumn: 0 })).toEqual([
      ['trace-one-column', 'resistanceColumn', undefined],
    ])
    expect(faults(rows(30).join('\n'), { ...mm, resistanceColumn: 7 })).toEqual([
      ['column-missing', 'resistanceColumn', 7],
    ])
    const long = Array.from({ length: traceLimits.rows + 1 }, (_, i) => `${i / 100} 5`).join('\n')
    expect(faults(long)).toEqual([['trace-too-long', 'raw', traceLimits.rows + 1]])
    expect(faults('1'.repeat(3_000_001))).toEqual([['too-large', 'raw', 3_000_001]])
  })

  it('is read or refused, and never throws, whatever the text', () => {
    const cell = fc.oneof(
      fc.constantFrom('', '"', '1', '2,5', '3.5', 'NaN', '-', '1e9', 'depth', '#'),
      fc.string(),
    )
    const line = fc.tuple(fc.array(cell, { maxLength: 5 }), fc.constantFrom(';', ',', '\t', ' ', '|'))
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 300 }),
      fc
        .array(line, { maxLength: 40 })
        .map((lines) => lines.map(([cells, between]) => cells.join(between)).join('\n')),
      fc
        .array(fc.tuple(fc.nat(9), cell), { minLength: 20, maxLength: 40 })
        .map((all) => all.map((pair) => pair.join(';')).join('\n')),
    )
    const columns = fc.record({
      depthUnit: fc.constantFrom('mm' as const, 'cm' as const, 'in' as const),
      depthColumn: fc.integer({ min: -1, max: 6 }),
      resistanceColumn: fc.integer({ min: -1, max: 6 }),
    })
    fc.assert(
      fc.property(text, columns, (raw, said) => {
        const outcome = readTrace(raw, said)
        if (!outcome.ok) expect(outcome.refusals.length).toBeGreaterThan(0)
        else expect(outcome.value.depthsCm.every((depth, i, all) => i === 0 || depth > all[i - 1])).toBe(true)
      }),
      { numRuns: 500 },
    )
  })
})
