import { refusal } from '@underbough/model'

export const mostPhotoBytes = 40 * 1024 * 1024
const latin = (bytes: Uint8Array, from: number, to: number) =>
  new TextDecoder('latin1').decode(bytes.subarray(from, to))

/** What the first bytes (32 suffice) say a picture is; its name and stated type are not believed. */
export function pictureType(bytes: Uint8Array): string | null {
  const starts = (...head: number[]) => head.every((byte, i) => bytes[i] === byte)
  if (starts(0xff, 0xd8, 0xff)) return 'image/jpeg'
  if (starts(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png'
  const word = latin(bytes, 4, 12)
  if (/^ftyp(heic|heix|mif1|msf1|avif)/.test(word)) return word.endsWith('avif') ? 'image/avif' : 'image/heic'
  if (starts(0x52, 0x49, 0x46, 0x46) && latin(bytes, 8, 12) === 'WEBP') return 'image/webp'
  return null
}

export const unknownPicture = (path: string) =>
  refusal('file-not-this-format', path, {
    message: 'This is no picture in a format known here: JPEG, PNG, WebP, AVIF or HEIC.',
  })

/**
 * Names of the parts of a picture that tell more than it shows: where and with what it was taken, captions, an earlier picture. Colour
 * profiles do not count. Null where the format has none that can be looked through here. Markers: ITU-T T.81 table B.1 with the
 * application segments of Exif (APP1), XMP (APP1) and IPTC (APP13); PNG third edition, clause 11.3; the RIFF container of WebP.
 */
export function metadataIn(bytes: Uint8Array): string[] | null {
  const type = pictureType(bytes)
  if (type === 'image/jpeg') return jpegMetadata(bytes)
  if (type === 'image/png') return pngMetadata(bytes)
  if (type === 'image/webp') return webpMetadata(bytes)
  return null
}

/** Application segments that a plain picture may have: JFIF, colour profile, colour transform. */
const plainSegments = new Set([0xe0, 0xe2, 0xee])

function jpegMetadata(bytes: Uint8Array): string[] {
  const found: string[] = []
  let at = 2
  while (at + 4 <= bytes.length) {
    if (bytes[at] !== 0xff) return [...found, 'unreadable']
    const marker = bytes[at + 1]!
    if (marker === 0xff) {
      at += 1
      continue
    }
    // From the first scan on come the picture's own bytes; a second picture behind its end would be one more to hide things in.
    if (marker === 0xda) return endsWithPicture(bytes) ? found : [...found, 'after the end']
    const length = bytes[at + 2]! * 256 + bytes[at + 3]!
    const application = marker >= 0xe0 && marker <= 0xef
    // APP2 holds the colour profile, and in some cameras further pictures.
    const profile = marker !== 0xe2 || latin(bytes, at + 4, at + 15) === 'ICC_PROFILE'
    if (marker === 0xfe) found.push('COM')
    else if (application && !(plainSegments.has(marker) && profile)) found.push(`APP${marker - 0xe0}`)
    at += 2 + length
  }
  return [...found, 'unreadable']
}

const endsWithPicture = (bytes: Uint8Array) => bytes.at(-2) === 0xff && bytes.at(-1) === 0xd9

function pngMetadata(bytes: Uint8Array): string[] {
  const telling = new Set(['eXIf', 'tEXt', 'zTXt', 'iTXt', 'tIME'])
  return chunks(bytes, 8, bytes.length, (at) => ({
    name: latin(bytes, at + 4, at + 8),
    next: at + 12 + wordAt(bytes, at, false),
  })).filter((name) => telling.has(name) || name === 'unreadable')
}

function webpMetadata(bytes: Uint8Array): string[] {
  const end = 8 + wordAt(bytes, 4, true)
  const telling = new Set(['EXIF', 'XMP '])
  return chunks(bytes, 12, end, (at) => {
    const length = wordAt(bytes, at + 4, true)
    return { name: latin(bytes, at, at + 4), next: at + 8 + length + (length % 2) }
  }).filter((name) => telling.has(name) || name === 'unreadable')
}

const wordAt = (bytes: Uint8Array, at: number, little: boolean) =>
  at + 4 <= bytes.length ? new DataView(bytes.buffer, bytes.byteOffset + at, 4).getUint32(0, little) : 0

function chunks(
  bytes: Uint8Array,
  from: number,
  end: number,
  read: (at: number) => { name: string; next: number },
): string[] {
  const names: string[] = []
  let at = from
  while (at + 8 <= end && at + 8 <= bytes.length) {
    const { name, next } = read(at)
    names.push(name)
    at = next
  }
  return at === end && end === bytes.length ? names : [...names, 'unreadable']
}
