import { describe, expect, it } from 'vitest'
import { readTable } from './table.ts'
import { bytesOf, outcomeCodes, taken } from './testing.ts'

const read = (text: string | Uint8Array, options = {}) =>
  readTable(typeof text === 'string' ? bytesOf(text) : text, 'list.csv', options)
const cells = (text: string) => taken(read(text)).rows.map((row) => row.cells)

/** Pseudo-random bytes that are the same on every run. */
function junk(length: number, lowest = 0, highest = 255): Uint8Array {
  let state = 12345
  return Uint8Array.from({ length }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return lowest + ((state >>> 16) % (highest - lowest + 1))
  })
}

describe('bytes to text', () => {
  const encoded: [string, number[], string, number][] = [
    ['UTF-8', [0xc3, 0xa4], 'utf-8', 0],
    ['windows-1252', [0xe4], 'windows-1252', 1],
  ]
  it.each(encoded)('reads %s', (_, letter, encoding, notes) => {
    const line = (name: string) => [
      ...bytesOf(`${name},B`),
      ...letter,
      ...bytesOf('ume und Str'),
      ...letter,
      ...bytesOf('ucher im Gr'),
      ...letter,
      ...bytesOf('ben\n'),
    ]
    const outcome = read(Uint8Array.from([...bytesOf('id,Ort\n'), ...line('1'), ...line('2'), ...line('3')]))
    const table = taken(outcome)
    expect(table.rows[0]!.cells[1]).toBe('Bäume und Sträucher im Gräben')
    expect(table.encoding).toBe(encoding)
    expect(outcomeCodes(outcome)).toEqual(notes ? ['file-encoding-guessed'] : [])
  })

  it.each([
    ['utf-16le', [0xff, 0xfe], (c: number) => [c & 255, c >> 8]],
    ['utf-16be', [0xfe, 0xff], (c: number) => [c >> 8, c & 255]],
  ] as const)('reads %s with and without its byte order mark', (encoding, mark, pair) => {
    const body = [...'id,Ort\n1,Bäume\n'].flatMap((letter) => pair(letter.charCodeAt(0)))
    for (const start of [mark, []]) {
      const table = taken(read(Uint8Array.from([...start, ...body])))
      expect(table.columns[0]!.name).toBe('id')
      expect(table.rows[0]!.cells).toEqual(['1', 'Bäume'])
      expect(table.encoding).toBe(encoding)
    }
  })

  it('keeps the byte order mark out of the first column name', () => {
    expect(taken(read(Uint8Array.from([0xef, 0xbb, 0xbf, ...bytesOf('id,a\n1,2\n')]))).columns[0]!.name).toBe(
      'id',
    )
  })

  it('refuses ten megabytes of random bytes at once', () => {
    const bytes = junk(10_000_000)
    const start = performance.now()
    expect(outcomeCodes(read(bytes))).toEqual(['file-not-text'])
    expect(performance.now() - start).toBeLessThan(500)
  })

  it('refuses ten megabytes of random letters, which are text but no table', () => {
    const bytes = junk(10_000_000, 32, 126)
    for (let i = 40; i < bytes.length; i += 60) bytes[i] = 10
    const start = performance.now()
    expect(outcomeCodes(read(bytes))).toEqual(['file-not-this-format'])
    expect(performance.now() - start).toBeLessThan(5000)
  })

  it.each([
    ['', 'file-empty'],
    [' \r\n\r\n', 'file-empty'],
    ['id,species,lon\r\n', 'file-header-only'],
    ['id,species,lon\n\n\n', 'file-header-only'],
    ['PK\u0003\u0004rest', 'file-not-this-format'],
    ['id,a\n1,"never closed\n2,b\n', 'file-not-this-format'],
  ])('refuses %j with %s', (text, code) => {
    expect(outcomeCodes(read(text))).toEqual([code])
  })
})

describe('comma-separated values', () => {
  it('keeps delimiters, quotation marks and line breaks inside quoted cells (RFC 4180, section 2)', () => {
    expect(cells('a,b\r\n"1,5","say ""no""\nthen"\r\n')).toEqual([['1,5', 'say "no"\nthen']])
  })

  it('finds the delimiter though decimal commas and typed headers hold others', () => {
    expect(taken(read('id;x;y\n1;2,5;3,5\n2;2,5;3,5\n')).delimiter).toBe(';')
    expect(taken(read('id,C,20;x,N,19,11\n1;2,5\n2;3,5\n')).columns).toEqual([
      { name: 'id', typeHint: 'C,20' },
      { name: 'x', typeHint: 'N,19,11' },
    ])
    expect(taken(read('sep=|\nid|a\n1|2\n')).columns.map((c) => c.name)).toEqual(['id', 'a'])
    expect(taken(read('id\ta\n1\t2\n')).delimiter).toBe('\t')
  })

  it('counts lines as a person does', () => {
    const table = taken(read('id,a\n1,"two\nlines"\n\n2,b\n'))
    expect(table.rows.map((row) => row.line)).toEqual([2, 5])
  })

  it('names columns without a name, and one of two alike', () => {
    expect(taken(read('a,,a\n1,2,3\n')).columns.map((c) => c.name)).toEqual(['a', 'Column 2', 'a (2)'])
  })

  it('numbers the columns of a file without a header', () => {
    const table = taken(read('1,2.5,3.5\n2,2.6,3.6\n'))
    expect(table.columns.map((c) => c.name)).toEqual(['Column 1', 'Column 2', 'Column 3'])
    expect(table.rows).toHaveLength(2)
  })

  it('reports a ragged row on that row and a header that is too short on the file', () => {
    const ragged = taken(read('a,b\n1,2\n3\n4,5,6\n7,8\n9,9\n'))
    expect(ragged.rows.map((row) => row.notes.map((note) => note.code))).toEqual([
      [],
      ['column-count'],
      ['column-count'],
      [],
      [],
    ])
    const short = read('a,b\n1,2,3\n4,5,6\n')
    expect(outcomeCodes(short)).toEqual(['column-count'])
    expect(taken(short).rows[0]!.cells).toEqual(['1', '2', '3'])
  })
})

describe('GeoJSON as a table', () => {
  const text = (root: unknown) => bytesOf(JSON.stringify(root))
  const feature = {
    type: 'Feature',
    id: 7,
    properties: { kind: 'tree', h: 12, nested: { a: 1 } },
    geometry: { type: 'Point', coordinates: [1, 2] },
  }

  it('turns properties into columns and keeps the geometry as text', () => {
    const table = taken(
      readTable(
        text({ type: 'FeatureCollection', features: [feature, { ...feature, properties: { other: true } }] }),
        'a.geojson',
      ),
    )
    expect(table.columns.map((c) => c.name)).toEqual(['id', 'kind', 'h', 'nested', 'other', 'geometry'])
    expect(table.rows[0]!.cells).toEqual([
      '7',
      'tree',
      '12',
      '{"a":1}',
      '',
      '{"type":"Point","coordinates":[1,2]}',
    ])
    expect(table.rows[1]!).toMatchObject({ line: 2, cells: ['7', '', '', '', 'true', expect.any(String)] })
  })

  it('reads the reference system that older files state', () => {
    const crs = { type: 'name', properties: { name: 'urn:ogc:def:crs:EPSG::25832' } }
    expect(
      taken(readTable(text({ type: 'FeatureCollection', crs, features: [feature] }), 'a.json')).crs,
    ).toBe('EPSG:25832')
  })

  it.each([
    ['a broken file', '{"type":"FeatureCollection","features":[', 'file-not-this-format'],
    ['another kind of JSON', '{"hello":"world"}', 'file-not-this-format'],
    ['a list', '[1,2,3]', 'file-not-this-format'],
    ['no features', '{"type":"FeatureCollection","features":[]}', 'file-header-only'],
    ['brackets without end', '['.repeat(2_000_000), 'file-not-this-format'],
    [
      'brackets too deep',
      `{"type":"FeatureCollection","features":${'['.repeat(200_000)}${']'.repeat(200_000)}}`,
      null,
    ],
  ])('meets %s calmly', (_, body, code) => {
    const outcome = readTable(bytesOf(body), 'a.geojson')
    expect(outcomeCodes(outcome)).toEqual(code ? [code] : [])
  })

  it('does not stumble over a geometry or property nested without end', () => {
    const deep = `${'['.repeat(50_000)}${']'.repeat(50_000)}`
    const body = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"p":${deep}},"geometry":{"type":"Point","coordinates":${deep}}}]}`
    expect(taken(readTable(bytesOf(body), 'a.geojson')).rows).toHaveLength(1)
  })
})
