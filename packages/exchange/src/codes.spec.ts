import { describe, expect, it } from 'vitest'
import { type ExchangeCode, exchangeCodes } from './codes.ts'
import { readTable } from './table.ts'
import type { TableOptions } from './table-types.ts'
import {
  bytesOf,
  codesOf,
  featuresBytes,
  mappingWith,
  outcomeCodes,
  plainColumns,
  zoneMappingWith,
} from './testing.ts'
import { readTrees, type TreeReadingOptions } from './trees.ts'
import { readWind } from './wind/read.ts'
import { roseOfGusts } from './wind/rose.ts'
import { readZones } from './zones.ts'

const table = (text: string | Uint8Array, options: TableOptions = {}) =>
  readTable(typeof text === 'string' ? bytesOf(text) : text, 'list.csv', options)

const tableCodes = (text: string | Uint8Array, options?: TableOptions) => async () =>
  outcomeCodes(table(text, options))

/** Codes of a list of trees: of the file and of each row. */
function treeCodes(rows: string[], mapping = mappingWith(plainColumns), options: TreeReadingOptions = {}) {
  return async () => {
    const read = table(['id,species,lon,lat,d', ...rows].join('\n'))
    if (!read.ok) return outcomeCodes(read)
    const outcome = await readTrees(read.value, mapping, options)
    return [
      ...outcomeCodes(read),
      ...outcomeCodes(outcome),
      ...(outcome.ok ? outcome.value.rows.flatMap((row) => codesOf(row.notes)) : []),
    ]
  }
}

function zoneCodes(geometry: unknown, properties: object = { leisure: 'playground' }) {
  return async () => {
    const outcome = await readZones(featuresBytes({ properties, geometry }), zoneMappingWith())
    return [
      ...outcomeCodes(outcome),
      ...(outcome.ok ? outcome.value.rows.flatMap((row) => codesOf(row.notes)) : []),
    ]
  }
}

/** Codes of a file of hourly weather and of the rose of its strong gusts. */
function windCodes(rows: string[], gustMps = 15) {
  return async () => {
    const read = table(['hour,from,gust', ...rows].join('\n'))
    if (!read.ok) return outcomeCodes(read)
    const outcome = readWind(read.value, {
      time: { kind: 'one', column: 'hour' },
      timeZone: 'America/New_York',
      dayFirst: true,
      gust: 'gust',
      direction: 'from',
      mean: null,
      unit: 'mps',
      zeroIsNorth: false,
      decimalComma: false,
      station: null,
    })
    if (!outcome.ok) return outcomeCodes(outcome)
    const rose = roseOfGusts(outcome.value.hours, { kind: 'from', gustMps }, 'UTC')
    return [...outcomeCodes(outcome), ...codesOf(rose.notes)]
  }
}
const blown = Array.from({ length: 24 }, (_, i) => `2025-01-${String(i + 1).padStart(2, '0')} 06:00,270,20`)

const polygon = (...corners: number[][]) => ({ type: 'Polygon', coordinates: [corners] })
const good = 'a,Tilia cordata,-8.25,-31.67,40'
const heights = { ...plainColumns, d: 'height' as const }
const [o, e, ne, n] = [
  [0, 0],
  [0.001, 0],
  [0.001, 0.001],
  [0, 0.001],
] as const
const at = (p: readonly number[]) => [...p]

/** A case in which each code is given. */
const cases: Record<ExchangeCode, () => Promise<string[]>> = {
  unknown: tableCodes(good, { encoding: 'no-such-encoding' }),
  'too-large': tableCodes(`id\n${good}`, { maxBytes: 3 }),
  'out-of-range': treeCodes(
    ['a,Tilia cordata,-8.25,-31.67,0900'],
    mappingWith({ ...plainColumns, d: 'plantedYear' }),
  ),
  'geometry-empty': zoneCodes(null),
  'geometry-crosses-itself': zoneCodes(polygon(at(o), at(ne), at(e), at(n), at(o))),
  'geometry-no-area': zoneCodes(polygon(at(o), at(ne), [0.002, 0.002], at(o))),
  'geometry-outside-world': zoneCodes(polygon(at(o), [400, 0], at(ne), at(o))),
  'geometry-wrong-kind': zoneCodes({ type: 'Point', coordinates: at(o) }),
  'geometry-ring-closed': zoneCodes(polygon(at(o), at(e), at(ne))),
  'geometry-ring-turned': zoneCodes(polygon(at(o), at(n), at(ne), at(e), at(o))),
  'geometry-height-dropped': zoneCodes(polygon([0, 0, 5], [0.001, 0, 5], [0.001, 0.001, 5], [0, 0, 5])),
  'file-empty': tableCodes(''),
  'file-header-only': tableCodes('id,species\n'),
  'file-not-text': tableCodes(Uint8Array.from({ length: 4000 }, (_, i) => (i * 7919) % 251)),
  'file-not-this-format': tableCodes('{"type": "Feature', { format: 'geojson' }),
  'file-encoding-guessed': tableCodes(
    Uint8Array.from([...bytesOf('id,name\n1,B'), 0xe4, ...bytesOf('ume\n')]),
  ),
  'column-missing': treeCodes([good], mappingWith({ ...plainColumns, nowhere: 'height' })),
  'column-count': treeCodes([good, good, good, 'b,Tilia cordata,-8.25,-31.67']),
  'crs-unknown': treeCodes([good], mappingWith(plainColumns, { crs: 'EPSG:99999' })),
  'crs-approximate': treeCodes(
    ['a,Tilia cordata,3527693,6073626,4'],
    mappingWith(plainColumns, { crs: 'EPSG:31467' }),
  ),
  'axes-swapped': treeCodes(['a,Tilia cordata,-33.9,151.2,4'], mappingWith(plainColumns)),
  'position-missing': treeCodes(['a,Tilia cordata,,-31.67,40']),
  'position-far-away': treeCodes([good, 'b,Tilia cordata,-8.26,-31.67,4', 'c,Tilia cordata,8.25,31.67,4']),
  'id-missing': treeCodes([',Tilia cordata,-8.25,-31.67,40']),
  'id-duplicate': treeCodes([good, good]),
  'diameter-implausible': treeCodes(['a,Tilia cordata,-8.25,-31.67,-4']),
  'diameter-unusual': treeCodes(['a,Tilia cordata,-8.25,-31.67,674']),
  'height-implausible': treeCodes(['a,Tilia cordata,-8.25,-31.67,400'], mappingWith(heights)),
  'number-unreadable': treeCodes(['a,Tilia cordata,-8.25,-31.67,10-20']),
  'value-blank': treeCodes(['a,Tilia cordata,-8.25,-31.67,None']),
  'species-unknown': treeCodes(['a,the big one,-8.25,-31.67,40']),
  'tag-repeated': treeCodes(
    [good, 'b,Tilia cordata,-8.26,-31.67,a'],
    mappingWith({ id: 'sourceKey', species: 'tag', lon: 'x', lat: 'y' }),
  ),
  'kind-assumed': zoneCodes(polygon(at(o), at(e), at(ne), at(o)), {}),
  'group-of-trees': treeCodes(['a,Baumgruppe,-8.25,-31.67,40']),
  'shared-position': treeCodes([good, 'b,Tilia cordata,-8.25,-31.67,4']),
  'hour-unreadable': windCodes(['yesterday,270,20']),
  'hour-skipped': windCodes([...blown, '2025-03-09 02:00,270,20']),
  'hour-repeated': windCodes([...blown, '2025-01-24 06:20,270,20']),
  'hours-missing': windCodes(blown),
  'wind-fault': windCodes([...blown, '2025-01-25 06:00,270,468']),
  'gust-without-direction': windCodes([...blown, '2025-01-25 06:00,VRB,20']),
  'gusts-few': windCodes(['2025-01-01 06:00,270,20', '2025-01-01 07:00,270,20']),
  'gusts-none': windCodes(['2025-01-01 06:00,270,20'], 30),
}

describe('every code this package can give', () => {
  it.each(exchangeCodes)('%s has a case that gives it', async (code) => {
    expect(await cases[code]()).toContain(code)
  })

  it('is absent from a sound row and a sound zone, so that no case above passes by accident', async () => {
    expect(await treeCodes([good])()).toEqual([])
    expect(await zoneCodes(polygon(at(o), at(e), at(ne), at(o)))()).toEqual([])
    const days = Array.from({ length: 240 }, (_, i) => {
      const hour = new Date(Date.UTC(2025, 0, 1, i)).toISOString().slice(0, 16)
      return `${hour},270,20`
    })
    expect(await windCodes(days)()).toEqual([])
  })
})
