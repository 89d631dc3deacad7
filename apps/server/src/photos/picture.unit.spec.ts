import { describe, expect, it } from 'vitest'
import { metadataIn, pictureType } from './picture.ts'

const word = (n: number, little = false) => {
  const bytes = Buffer.alloc(4)
  if (little) bytes.writeUInt32LE(n)
  else bytes.writeUInt32BE(n)
  return [...bytes]
}
const text = (s: string) => [...Buffer.from(s, 'latin1')]
const segment = (marker: number, content: number[]) => [
  0xff,
  marker,
  (content.length + 2) >> 8,
  (content.length + 2) & 255,
  ...content,
]
const jfif = segment(0xe0, text('JFIF\0'))
const scan = [0xff, 0xda, 0, 2, 1, 2, 3]
const end = [0xff, 0xd9]
const jpeg = (...parts: number[][]) => Uint8Array.from([0xff, 0xd8, ...parts.flat()])
// PNG: length, name, content, four bytes of check (not looked at here).
const chunk = (name: string, content: number[] = []) => [
  ...word(content.length),
  ...text(name),
  ...content,
  ...[0, 0, 0, 0],
]
const png = (...chunks: number[][]) =>
  Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, ...chunks.flat()])
const riff = (name: string, content: number[]) => [
  ...text(name),
  ...word(content.length, true),
  ...content,
  ...(content.length % 2 ? [0] : []),
]
const webp = (...chunks: number[][]) => {
  const inner = [...text('WEBP'), ...chunks.flat()]
  return Uint8Array.from([...text('RIFF'), ...word(inner.length, true), ...inner])
}

describe('what a picture says beside what it shows', () => {
  it('finds nothing in a plain one of each format', () => {
    const profile = segment(0xe2, [...text('ICC_PROFILE\0'), 1, 1])
    expect(metadataIn(jpeg(jfif, profile, segment(0xee, text('Adobe')), scan, end))).toEqual([])
    expect(
      metadataIn(png(chunk('IHDR', [1, 2, 3]), chunk('iCCP'), chunk('IDAT', [4]), chunk('IEND'))),
    ).toEqual([])
    expect(metadataIn(webp(riff('VP8X', [0, 1]), riff('ICCP', [1, 2, 3]), riff('VP8 ', [1])))).toEqual([])
  })

  it('names the parts of a JPEG that tell more: Exif and XMP, IPTC, comments, further pictures', () => {
    const exif = segment(0xe1, text('Exif\0\0'))
    const iptc = segment(0xed, text('Photoshop 3.0'))
    const comment = segment(0xfe, text('by the gate'))
    expect(metadataIn(jpeg(jfif, exif, iptc, comment, scan, end))).toEqual(['APP1', 'APP13', 'COM'])
    expect(metadataIn(jpeg([0xff], exif, scan, end))).toEqual(['APP1'])
    expect(metadataIn(jpeg(segment(0xe2, text('MPF\0')), scan, end))).toEqual(['APP2'])
    expect(metadataIn(jpeg(jfif, scan, end, text('a second one')))).toEqual(['after the end'])
  })

  it('names those of PNG and WebP', () => {
    expect(metadataIn(png(chunk('IHDR'), chunk('eXIf', [1]), chunk('iTXt'), chunk('IEND')))).toEqual([
      'eXIf',
      'iTXt',
    ])
    expect(metadataIn(webp(riff('VP8 ', [1]), riff('EXIF', [1, 2, 3]), riff('XMP ', [])))).toEqual([
      'EXIF',
      'XMP ',
    ])
  })

  it('takes nothing on trust that it cannot read to the end', () => {
    for (const bytes of [
      jpeg(jfif),
      jpeg([0xff, 0xe0, 0, 40], text('cut')),
      jpeg(jfif, [0, 0, 0, 0, 0]),
      png(chunk('IHDR').slice(0, 10)),
      png(chunk('IHDR'), chunk('IEND'), text('and more')),
      webp(riff('VP8 ', [1])).slice(0, 18),
      Uint8Array.from([...webp(riff('VP8 ', [1])), ...text('more bytes')]),
    ])
      expect(metadataIn(bytes)).not.toEqual([])
    const heic = Uint8Array.from([0, 0, 0, 24, ...text('ftypheic'), 0, 0, 0, 0])
    expect([pictureType(heic), metadataIn(heic)]).toEqual(['image/heic', null])
  })
})
