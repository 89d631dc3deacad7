import { withoutMetadata } from '@underbough/field'
import { describe, expect, it } from 'vitest'
import { readExif } from './exif.ts'

// A JPEG with EXIF, assembled by hand from the standards, not from our own output: markers and segments of ITU-T T.81 (1992) annex B,
// header and directories of TIFF 6.0 (1992) section 2, tags of Exif 2.32 (CIPA DC-008) 4.6.5 and 4.6.6, "Exif\0\0" in APP1 by 4.7.2.

const ascii = (text: string) => [...text].map((letter) => letter.charCodeAt(0))
const segment = (code: number, body: readonly number[]) => [
  0xff,
  code,
  (body.length + 2) >> 8,
  (body.length + 2) & 0xff,
  ...body,
]

type Order = 'II' | 'MM'
const wholeOf = (order: Order) => (value: number, size: 2 | 4) => {
  const bytes = Array.from({ length: size }, (_, i) => (value >>> (8 * (size - 1 - i))) & 0xff)
  return order === 'MM' ? bytes : bytes.reverse()
}
interface Field {
  tag: number
  /** 2 ASCII, 4 LONG, 5 RATIONAL. */
  type: 2 | 4 | 5
  count: number
  value: number[]
}
/** A directory at `at`: its fields, the pointer to none after it, then what did not fit in four bytes. */
function directory(order: Order, at: number, fields: readonly Field[]): number[] {
  const whole = wholeOf(order)
  let free = at + 2 + fields.length * 12 + 4
  const later: number[] = []
  const rows = fields.flatMap(({ tag, type, count, value }) => {
    const head = [...whole(tag, 2), ...whole(type, 2), ...whole(count, 4)]
    if (value.length <= 4) return [...head, ...value, ...Array(4 - value.length).fill(0)]
    later.push(...value)
    free += value.length
    return [...head, ...whole(free - value.length, 4)]
  })
  return [...whole(fields.length, 2), ...rows, ...whole(0, 4), ...later]
}
const text = (tag: number, words: string): Field => {
  const value = [...ascii(words), 0]
  return { tag, type: 2, count: value.length, value }
}
const rationals = (order: Order, tag: number, parts: readonly [number, number][]): Field => ({
  tag,
  type: 5,
  count: parts.length,
  value: parts.flatMap(([over, under]) => [...wholeOf(order)(over, 4), ...wholeOf(order)(under, 4)]),
})

function tiff(order: Order, exif: readonly Field[], gps: readonly Field[]): number[] {
  const whole = wholeOf(order)
  const long = (tag: number, value: number): Field => ({ tag, type: 4, count: 1, value: whole(value, 4) })
  const first = 8
  const exifAt = first + 2 + 2 * 12 + 4
  const exifBytes = directory(order, exifAt, exif)
  const gpsAt = exifAt + exifBytes.length
  return [
    ...ascii(order),
    ...whole(42, 2),
    ...whole(first, 4),
    ...directory(order, first, [long(0x8769, exifAt), long(0x8825, gpsAt)]),
    ...exifBytes,
    ...directory(order, gpsAt, gps),
  ]
}

// 7° 56′ 42.36″ S, 14° 21′ 18.00″ W: invented, in the open Atlantic.
const place = (order: Order): Field[] => [
  text(1, 'S'),
  rationals(order, 2, [
    [7, 1],
    [56, 1],
    [4236, 100],
  ]),
  text(3, 'W'),
  rationals(order, 4, [
    [14, 1],
    [21, 1],
    [1800, 100],
  ]),
]
const taken = [text(0x9003, '2026:11:25 14:02:03'), text(0x9011, '-01:00')]

const jfif = segment(0xe0, [...ascii('JFIF'), 0, 1, 1, 0, 0, 1, 0, 1, 0, 0])
const adobe = segment(0xee, [...ascii('Adobe'), 0, 100, 0, 0, 0, 0, 1])
// Coded data with a stuffed 0xFF and a restart: neither ends the scan (T.81, B.1.1.2 and B.1.1.5).
const scan = [...segment(0xda, [1, 1, 0, 0, 63, 0]), 0x12, 0xff, 0x00, 0x34, 0xff, 0xd0, 0x56]
const tables = segment(0xdb, [0, ...Array(64).fill(1)])
const jpeg = (...parts: readonly number[][]) => new Uint8Array([0xff, 0xd8, ...parts.flat(), 0xff, 0xd9])
const withExif = (order: Order, exif: readonly Field[] = taken, gps: readonly Field[] = place(order)) =>
  jpeg(jfif, segment(0xe1, [...ascii('Exif'), 0, 0, ...tiff(order, exif, gps)]), tables, scan)

describe('what a camera wrote into a picture', () => {
  it.each(['II', 'MM'] as const)('is read in byte order %s', async (order) => {
    const { takenAt, position } = await readExif(withExif(order).buffer)
    // One hour behind UTC.
    expect(takenAt).toBe('2026-11-25T15:02:03.000Z')
    // 14 + 21/60 + 18/3600 and 7 + 56/60 + 42.36/3600, west and south of zero.
    expect(position?.[0]).toBeCloseTo(-14.355, 9)
    expect(position?.[1]).toBeCloseTo(-7.9451, 9)
  })

  it('is taken for the clock of this device where it names no zone', async () => {
    const { takenAt } = await readExif(withExif('II', [text(0x9003, '2026:11:25 14:02:03')]).buffer)
    expect(takenAt).toBe(new Date(2026, 10, 25, 14, 2, 3).toISOString())
  })

  it.each([
    ['a camera whose clock was never set', [text(0x9003, '    :  :     :  :  ')], place('II')],
    ['a place outside the world', [], [text(1, 'N'), rationals('II', 2, [[97, 1]]), ...place('II').slice(2)]],
    ['a place divided by nothing', [], [text(1, 'N'), rationals('II', 2, [[7, 0]]), ...place('II').slice(2)]],
  ])('is left out for %s', async (what, exif, gps) => {
    const read = await readExif(withExif('II', exif, gps).buffer)
    expect(read.takenAt).toBeNull()
    if (what.includes('place')) expect(read.position).toBeNull()
  })

  it('is nothing in bytes that are no picture', async () => {
    expect(await readExif(new Uint8Array([1, 2, 3]).buffer)).toEqual({ takenAt: null, position: null })
    expect(await readExif(new ArrayBuffer(0))).toEqual({ takenAt: null, position: null })
  })
})

describe('a copy that leaves', () => {
  const xmp = segment(0xe1, ascii('http://ns.adobe.com/xap/1.0/\0<x:xmpmeta/>'))
  const said = segment(0xfe, ascii('taken by somebody'))
  const trailing = ascii('a film after the picture')

  it('has no segment of a camera, no words, and nothing after its end; the picture stays byte for byte', async () => {
    const exif = segment(0xe1, [...ascii('Exif'), 0, 0, ...tiff('MM', taken, place('MM'))])
    const full = new Uint8Array([
      ...jpeg(jfif, exif, xmp, said, adobe, tables, scan, said, scan),
      ...trailing,
    ])
    expect((await readExif(full.buffer)).takenAt).not.toBeNull()
    const bare = withoutMetadata(full)!
    expect([...bare]).toEqual([...jpeg(jfif, adobe, tables, scan, scan)])
    // A reader of others' making finds nothing either.
    expect(await readExif(bare.buffer)).toEqual({ takenAt: null, position: null })
    expect(new TextDecoder('latin1').decode(bare)).not.toMatch(/Exif|xmpmeta|somebody|film/)
  })

  it('is refused where the bytes are no whole JPEG', () => {
    const cut = withExif('II').slice(0, -9)
    for (const bytes of [new Uint8Array(), new Uint8Array(ascii('no picture')), cut]) {
      expect(withoutMetadata(bytes)).toBeNull()
    }
  })
})
