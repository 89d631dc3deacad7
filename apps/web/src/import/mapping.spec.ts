import { readTable, readTrees, suggestMapping } from '@underbough/exchange'
import { type TreeField, type TreeMapping, treeFields } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { crsOf, epsgNumber, mappingLacks, takenFor } from './mapping.ts'
import { fieldNames, recordFieldName, sayValue, sentenceOf } from './words.ts'

const mapping = (columns: Record<string, TreeField>): TreeMapping => ({
  columns,
  diameterUnit: 'cm',
  heightUnit: 'm',
  measuredAtM: 1.3,
  crs: 'WGS84',
  decimalComma: false,
  speciesOrder: 'botanical',
  speciesSeparator: '',
})

describe('a mapping', () => {
  it('gives a field to one column only, but for parts of an identifier and notes', () => {
    const first = mapping({ a: 'height', b: 'ignore', c: 'note' })
    expect(takenFor(first, 'b', 'height').columns).toEqual({ a: 'ignore', b: 'height', c: 'note' })
    expect(takenFor(first, 'b', 'note').columns).toEqual({ a: 'height', b: 'note', c: 'note' })
    expect(first.columns.b).toBe('ignore')
  })

  it('lacks a position exactly where the reading would refuse it', () => {
    const table = readTable(
      new TextEncoder().encode('id,x,y,g\n1,-8.25,-31.67,POINT (-8.25 -31.67)\n'),
      'a.csv',
    )
    if (!table.ok) throw new Error('the table was refused')
    const cases: Record<string, TreeField>[] = [
      { id: 'sourceKey', x: 'x', y: 'y' },
      { id: 'sourceKey', g: 'geometry' },
      { id: 'sourceKey', x: 'x' },
      { id: 'sourceKey' },
    ]
    return Promise.all(
      cases.map(async (columns) => {
        const read = await readTrees(table.value, mapping(columns))
        expect(mappingLacks(mapping(columns)).missing.length === 0, JSON.stringify(columns)).toBe(read.ok)
      }),
    )
  })

  it('minds what would be lost', () => {
    const table = readTable(new TextEncoder().encode('id,x,y\n1,-8.25,-31.67\n2,-8.26,-31.68\n'), 'a.csv')
    if (!table.ok) throw new Error('the table was refused')
    const { mapping: suggested } = suggestMapping(table.value, { stemHeightM: 1.3, units: 'metric' })
    expect(mappingLacks(suggested).missing).toEqual([])
    expect(mappingLacks(suggested).mind.join(' ')).toMatch(/species.*height/)
    expect(mappingLacks(mapping({ x: 'x', y: 'y' })).mind[0]).toMatch(/stable identifier/)
  })

  it('reads the number of a grid', () => {
    expect([
      epsgNumber('EPSG:25832'),
      epsgNumber('epsg:4326'),
      epsgNumber('WGS84'),
      epsgNumber('EPSG:'),
    ]).toEqual([25832, 4326, null, null])
    expect(crsOf(25832)).toBe('EPSG:25832')
  })
})

describe('words of an import', () => {
  it('names every field once', () => {
    expect(new Set(treeFields.map((field) => fieldNames[field])).size).toBe(treeFields.length)
  })
  it('says differences with their unit', () => {
    expect(sayValue('stems', 52)).toBe('52 cm')
    expect(sayValue('heightM', 24.53)).toBe('24.5 m')
    expect(sayValue('plantedYear', 1987)).toBe('1987')
    expect(sayValue('position', [-8.25, -31.67])).toBe('-8.250000, -31.670000')
    expect(sayValue('commonName', null)).toBe('unknown')
    expect(sayValue('group', 12)).toBe('12 trees')
    expect(recordFieldName('stems')).toBe('stem')
  })
  it('has a sentence for a code, known or not', () => {
    expect(sentenceOf('id-duplicate')).toBe('Two rows share one stable identifier.')
    expect(sentenceOf('of-a-newer-server')).toBe('of-a-newer-server.')
  })
})
