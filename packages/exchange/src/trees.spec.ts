import { readFileSync } from 'node:fs'
import { type TreeMapping, treeInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { refusedAsCsv } from './refused.ts'
import { suggestMapping } from './suggest.ts'
import { readTable } from './table.ts'
import { bytesOf, codesOf, mappingWith, plainColumns, taken } from './testing.ts'
import { readTrees, readTreesInSteps, type TreeReading, type TreeReadingOptions } from './trees.ts'

const fixture = (name: string) => readFileSync(new URL(`../../../fixtures/import/${name}`, import.meta.url))

/** Reads a fixture as the program would, with what a person would put right. */
async function readFixture(
  name: string,
  mended: Partial<TreeMapping> = {},
  options: TreeReadingOptions = {},
) {
  const table = taken(readTable(fixture(name), name))
  const { mapping } = suggestMapping(table, { stemHeightM: 1.3, units: 'metric' })
  return taken(await readTrees(table, { ...mapping, ...mended }, options))
}

async function readRows(
  rows: string[],
  mapping = mappingWith(plainColumns),
  options: TreeReadingOptions = {},
) {
  const table = taken(readTable(bytesOf(['id,species,lon,lat,d', ...rows].join('\n')), 'list.csv'))
  return taken(await readTrees(table, mapping, options))
}

const firstTree = (reading: TreeReading) => reading.rows[0]!.tree!
const row = (d: string, species = 'Tilia cordata') => `a,${species},-8.25,-31.67,"${d}"`

describe('one verdict a row', () => {
  it('says of each row of a bad list what is wrong with it, by the line a person counts', async () => {
    const { rows, counts } = await readFixture('port-maud-bad-rows.csv')
    expect(rows.map((r) => [r.line, r.verdict, codesOf(r.notes).join(' ')])).toEqual([
      [2, 'taken', ''],
      [3, 'taken-with-notes', 'diameter-implausible'],
      [4, 'taken-with-notes', 'diameter-implausible'],
      [5, 'taken-with-notes', 'number-unreadable height-implausible'],
      [6, 'refused', 'id-duplicate'],
      [7, 'refused', 'position-missing'],
      [8, 'refused', 'geometry-outside-world'],
      [9, 'refused', 'id-missing'],
      [10, 'taken-with-notes', 'species-unknown'],
      [11, 'taken-with-notes', 'value-blank'],
      [12, 'taken-with-notes', 'tag-repeated'],
      [13, 'taken-with-notes', 'position-far-away'],
    ])
    expect(counts).toEqual({ taken: 1, 'taken-with-notes': 7, refused: 4 })
    expect(rows[4]!.notes[0]).toMatchObject({ limit: 'first on line 2', value: 'T1' })
  })

  it('keeps a tree whose diameter cannot be right, with the diameter unknown', async () => {
    const { rows } = await readFixture('port-maud-bad-rows.csv')
    for (const r of rows.slice(1, 4))
      expect(r.tree).toMatchObject({ stems: [], position: [expect.closeTo(-8.25, 2), -31.67] })
  })

  it('gives trees that the model takes, and none for a refused row', async () => {
    for (const name of [
      'port-maud-2025.csv',
      'port-maud-2026.csv',
      'port-maud-trees.geojson',
      'port-maud-bad-rows.csv',
    ]) {
      const { rows } = await readFixture(name)
      for (const r of rows) {
        expect(r.tree === null).toBe(r.verdict === 'refused')
        if (r.tree) expect(treeInput.safeParse(r.tree).error).toBeUndefined()
      }
    }
  })

  it('refuses the whole for a missing column or an unknown reference system only', async () => {
    const table = taken(readTable(bytesOf('id,lon,lat\na,1,2\n'), 'list.csv'))
    const noPlace = await readTrees(table, mappingWith({ id: 'sourceKey' }))
    expect(noPlace.ok || noPlace.refusals).toMatchObject([{ code: 'column-missing', path: 'geometry' }])
    const noCrs = await readTrees(table, mappingWith({ lon: 'x', lat: 'y' }, { crs: 'EPSG:1' }))
    expect(noCrs.ok || noCrs.refusals).toMatchObject([{ code: 'crs-unknown' }])
  })

  it('reports progress and can be left at any step', async () => {
    const rows = Array.from({ length: 1000 }, (_, i) => `${i},Tilia cordata,${-8 - i / 1e4},-31.67,4`)
    const table = taken(readTable(bytesOf(['id,species,lon,lat,d', ...rows].join('\n')), 'list.csv'))
    const seen: number[] = []
    for await (const progress of readTreesInSteps(table, mappingWith(plainColumns), { stepRows: 250 })) {
      seen.push(progress.rowsDone)
      expect(progress.rowsTotal).toBe(2000)
      if (progress.rowsDone >= 1500) break
    }
    expect(seen).toEqual([250, 500, 750, 1000, 1250, 1500])
  })
})

describe('figures', () => {
  const read = async (
    cell: string,
    mapping: Partial<TreeMapping> = {},
    field: 'diameter' | 'circumference' = 'diameter',
  ) => firstTree(await readRows([row(cell)], mappingWith({ ...plainColumns, d: field }, mapping))).stems

  it.each([
    ['40', {}, 40],
    ['40 cm', {}, 40],
    ['400', { diameterUnit: 'mm' }, 40],
    ['0.4', { diameterUnit: 'm' }, 40],
    ['0,4', { diameterUnit: 'm', decimalComma: true }, 40],
    ['10', { diameterUnit: 'in' }, 25.4],
    ['10 in', { diameterUnit: 'cm' }, 25.4],
  ] as const)('reads the diameter %j with %j as %d cm', async (cell, mapping, cm) => {
    expect(await read(cell, mapping)).toEqual([{ diameterCm: cm, measuredAtM: 1.3 }])
  })

  it('divides a circumference by π', async () => {
    expect(await read('100', {}, 'circumference')).toEqual([{ diameterCm: 31.83, measuredAtM: 1.3 }])
  })

  it('reads several stems out of one cell, at the height the mapping states', async () => {
    expect(await read('22/31+18', { measuredAtM: 1.4 })).toEqual(
      [22, 31, 18].map((diameterCm) => ({ diameterCm, measuredAtM: 1.4 })),
    )
  })

  it.each(['0', '-3', '1201', '99999'])('does not believe a diameter of %s cm', async (cell) => {
    const reading = await readRows([row(cell)])
    expect(codesOf(reading.rows[0]!.notes)).toEqual(['diameter-implausible'])
    expect(firstTree(reading).stems).toEqual([])
  })

  it('keeps a thick stem and asks', async () => {
    const reading = await readRows([row('301')])
    expect(codesOf(reading.rows[0]!.notes)).toEqual(['diameter-unusual'])
    expect(firstTree(reading).stems[0]!.diameterCm).toBe(301)
    expect(codesOf((await readRows([row('300')])).rows[0]!.notes)).toEqual([])
  })

  it.each([
    ['height', '12', 'm', { heightM: 12 }],
    ['height', '40', 'ft', { heightM: 12.192 }],
    ['height', '0', 'm', { heightM: null }],
    ['crownRadius', '3', 'm', { crownRadiiM: { n: 3, e: 3, s: 3, w: 3 } }],
    ['crownDiameter', '9', 'm', { crownRadiiM: { n: 4.5, e: 4.5, s: 4.5, w: 4.5 } }],
    ['crownBaseHeight', '0', 'm', { crownBaseHeightM: 0 }],
    ['count', '7', 'm', { group: { count: 7, outline: null } }],
    ['count', '1', 'm', { group: null }],
    ['plantedYear', '14.03.1987', 'm', { plantedYear: 1987 }],
    ['plantedYear', '1987-03-14T00:00:00', 'm', { plantedYear: 1987 }],
    ['status', 'Stubben', 'm', { status: 'stump' }],
    ['status', 'gefällt', 'm', { status: 'gone' }],
    ['owner', ' The  Parks ', 'm', { owner: 'The Parks' }],
    ['note', 'NULL', 'm', { note: '' }],
  ] as const)('reads %s %j', async (field, cell, heightUnit, expected) => {
    const reading = await readRows([row(cell)], mappingWith({ ...plainColumns, d: field }, { heightUnit }))
    expect(firstTree(reading)).toMatchObject(expected)
  })

  it.each(['None', 'NULL', '', ' ', 'n/a', '-'])('takes %j for unknown', async (cell) => {
    const reading = await readRows([row(cell)])
    expect(codesOf(reading.rows[0]!.notes)).toEqual(['value-blank'])
  })
})

describe('names', () => {
  it.each([
    ['Tilia cordata, Winter-Linde', 'botanical-then-common', ',', 'Tilia cordata', 'Winter-Linde'],
    ['Winter-Linde (Tilia cordata', 'common-then-botanical', '(', 'Tilia cordata', 'Winter-Linde'],
    ['Picea  species, Fichte', 'botanical-then-common', ',', 'Picea species', 'Fichte'],
    ['Tilia cordata', 'botanical-then-common', ',', 'Tilia cordata', null],
  ] as const)('parts %j', async (cell, speciesOrder, speciesSeparator, species, commonName) => {
    const reading = await readRows(
      [`a,"${cell}",-8.25,-31.67,40`],
      mappingWith(plainColumns, { speciesOrder, speciesSeparator }),
    )
    expect(firstTree(reading)).toMatchObject({ species, commonName })
    expect(reading.rows[0]!.notes).toEqual([])
  })

  it('takes a group for a group, of two where the list does not say how many', async () => {
    const reading = await readRows(['a,Baumgruppe/flächiger Bestand,-8.25,-31.67,40'])
    expect(firstTree(reading).group).toEqual({ count: 2, outline: null })
    expect(codesOf(reading.rows[0]!.notes)).toEqual(['group-of-trees'])
  })

  it('keeps a tag within sixty characters and one of a kind', async () => {
    const long = 'x'.repeat(80)
    const { rows } = await readRows([`${long}1,Tilia cordata,-8,-31,4`, `${long}2,Tilia cordata,-8.1,-31,4`])
    const tags = rows.map((r) => r.tree!.tag)
    expect(tags.every((tag) => tag.length <= 60)).toBe(true)
    expect(new Set(tags).size).toBe(2)
  })
})

describe('places', () => {
  const geometryMapping = mappingWith({ id: 'sourceKey', species: 'species', d: 'geometry' })
  const at = async (cell: string, options: TreeReadingOptions = {}) => {
    const reading = await readRows(
      [`a,Tilia cordata,,,"${cell.replaceAll('"', '""')}"`],
      geometryMapping,
      options,
    )
    return reading.rows[0]!.tree?.position ?? codesOf(reading.rows[0]!.notes)
  }

  it.each([
    ['{"type":"Point","coordinates":[-8.25,-31.67]}', [-8.25, -31.67]],
    ['{"type":"MultiPoint","coordinates":[[-8.25,-31.67]]}', [-8.25, -31.67]],
    ['{"type":"Point","coordinates":[-8.25,-31.67,12]}', [-8.25, -31.67]],
    ['POINT (-8.25 -31.67)', [-8.25, -31.67]],
    ['POINT Z (-8.25 -31.67 12)', [-8.25, -31.67]],
    ['SRID=4326;POINT(-8.25 -31.67)', [-8.25, -31.67]],
    ['-31.67, -8.25', [-8.25, -31.67]],
    ['{"type":"Point","coordinates":[0,0]}', ['position-missing']],
    ['{"type":"Point","coordinates":[]}', ['position-missing']],
    ['{"type":"MultiPoint","coordinates":[[1,2],[3,4]]}', ['geometry-wrong-kind']],
    ['{"type":"LineString","coordinates":[[1,2],[3,4]]}', ['geometry-wrong-kind']],
    ['{"type":"Point","coordinates":["a",2]}', ['number-unreadable']],
    ['by the gate', ['number-unreadable']],
    ['{"type":"Point"', ['number-unreadable']],
    ['', ['position-missing']],
  ])('reads %s', async (cell, expected) => {
    expect(await at(cell)).toEqual(expected)
  })

  it('turns a list whose northing and easting stand the other way round, once for the file and on each row', async () => {
    const reading = await readFixture('port-maud-swapped.csv', { crs: 'EPSG:32729' })
    expect(reading.axes).toBe('swapped')
    expect(codesOf(reading.notes)).toEqual(['axes-swapped'])
    for (const r of reading.rows) expect(codesOf(r.notes)).toContain('axes-swapped')
    // The file's own longitude and latitude, written by PROJ's cs2cs when the file was made, are the check.
    for (const r of reading.rows.slice(0, -1)) {
      expect(Math.abs(r.tree!.position[0] - Number(r.raw.geom))).toBeLessThan(1e-6)
      expect(Math.abs(r.tree!.position[1] - Number(r.raw['Column 8']))).toBeLessThan(1e-6)
    }
  })

  it('leaves a northing-first list as it is when the names are right', async () => {
    const reading = await readFixture('port-maud-typed-headers.csv', { crs: 'EPSG:32729' })
    expect(reading.axes).toBe('as-named')
    expect(firstTree(reading).position).toEqual([expect.closeTo(-8.25, 7), expect.closeTo(-31.67, 7)])
  })

  it("lets a person's own choice win over what was found", async () => {
    const reading = await readFixture('port-maud-swapped.csv', { crs: 'EPSG:32729' }, { axes: 'as-named' })
    expect(reading.axes).toBe('as-named')
    expect(reading.counts.refused).toBe(12)
    expect(codesOf(reading.rows[0]!.notes)).toContain('geometry-outside-world')
  })

  it('decides the order of latitude and longitude by the ground of the organisation where both fit', async () => {
    const rows = ['a,Tilia cordata,-31.67,-8.25,4', 'b,Tilia cordata,-31.68,-8.26,4']
    expect((await readRows(rows)).axes).toBe('as-named')
    const reading = await readRows(rows, mappingWith(plainColumns), { near: [-8.2, -31.6] })
    expect(reading.axes).toBe('swapped')
    expect(firstTree(reading).position).toEqual([-8.25, -31.67])
  })

  it('does not turn a file for one slip in it', async () => {
    const rows = [
      'a,Tilia cordata,-8.25,-31.67,4',
      'b,Tilia cordata,-8.25,-131.67,4',
      'c,Tilia cordata,-8.26,-31.67,4',
    ]
    const reading = await readRows(rows)
    expect(reading.axes).toBe('as-named')
    expect(reading.rows.map((r) => r.verdict)).toEqual(['taken', 'refused', 'taken'])
  })

  it('refuses metres taken for degrees', async () => {
    const reading = await readRows(['a,Tilia cordata,571094.977,6495897.055,4'])
    expect(codesOf(reading.rows[0]!.notes)).toEqual(['geometry-outside-world'])
  })

  it('notes trees on one point with their number', async () => {
    const { rows } = await readFixture('port-maud-2025.csv')
    const shared = rows.filter((r) => codesOf(r.notes).includes('shared-position'))
    expect(shared.map((r) => [r.sourceKey, r.notes[0]!.value])).toEqual([
      ['PM-0008', 2],
      ['PM-0009', 2],
    ])
  })
})

describe('identifiers', () => {
  it('joins number, area and street, without the padding, where only together they are unique', async () => {
    const { rows } = await readFixture('port-maud-typed-headers.csv')
    const keys = rows.map((r) => r.sourceKey)
    expect(keys.slice(0, 3)).toEqual([
      '10 | Lamp Green | Kirk Walk',
      '20 | Lamp Green | Kirk Walk',
      '10 | Harbour | Harbour Road',
    ])
    expect(new Set(keys).size).toBe(rows.length)
  })

  it('takes the next row of an identifier when the first had no place', async () => {
    const { rows } = await readRows(['a,Tilia cordata,,,4', 'a,Tilia cordata,-8.25,-31.67,4'])
    expect(rows.map((r) => r.verdict)).toEqual(['refused', 'taken'])
  })

  it('says once that a list without identifiers cannot be compared', async () => {
    const reading = await readRows(
      ['a,Tilia cordata,-8.25,-31.67,4'],
      mappingWith({ species: 'species', lon: 'x', lat: 'y' }),
    )
    expect(codesOf(reading.notes)).toEqual(['id-missing'])
    expect(reading.rows[0]).toMatchObject({ verdict: 'taken', sourceKey: null, tree: { tag: 'line 2' } })
  })
})

describe('refused rows as a file', () => {
  it('comes back mended, without the columns of reasons', async () => {
    const reading = await readFixture('port-maud-bad-rows.csv')
    const csv = refusedAsCsv(reading.rows)
    expect(csv.split('\r\n')[0]).toBe(
      'Tree ID,Tag,Species,Diameter (cm),Height (m),Longitude,Latitude,Notes,Refused: line,Refused: code,Refused: reason',
    )
    expect(csv).toContain('id-duplicate')
    const mended = csv
      .replace('T1,5', 'T5,5')
      .replace('40,12,,,no', '40,12,-8.2488,-31.67,no')
      .replace('-131.67', '-31.67')
      .replace('\r\n,8', '\r\nT8,8')
    const table = taken(readTable(bytesOf(mended), 'mended.csv'))
    expect(table.columns.map((c) => c.name)).toEqual(Object.keys(reading.rows[0]!.raw))
    const { mapping } = suggestMapping(table, { stemHeightM: 1.3, units: 'metric' })
    const again = taken(await readTrees(table, mapping))
    expect(again.rows.map((r) => [r.sourceKey, r.verdict])).toEqual(
      ['T5', 'T6', 'T7', 'T8'].map((key) => [key, 'taken']),
    )
  })

  it('disarms formulas and gives the cell back as it was', async () => {
    const formula = '=HYPERLINK("x")'
    const { rows } = await readRows([`a,"${formula.replaceAll('"', '""')}",,-31.67,-4`])
    const csv = refusedAsCsv(rows)
    expect(csv).toContain(`'=HYPERLINK`)
    expect(csv).toContain(',-31.67,-4,')
    expect(taken(readTable(bytesOf(csv), 'again.csv')).rows[0]!.cells[1]).toBe(formula)
  })
})
