/**
 * Pictures that are shown and shared carry nothing but the picture: no EXIF, no XMP, no comments. What a segment is follows ITU-T T.81
 * (1992), annex B: a marker is 0xFF and a code; APPn and COM carry what others put in.
 */
const SOI = 0xd8
const EOI = 0xd9
const SOS = 0xda
const COM = 0xfe
const APP0 = 0xe0
/** Says how the colours are coded; without it a picture may be drawn in wrong ones. */
const APP14 = 0xee

const isBare = (code: number) => (code >= 0xd0 && code <= 0xd7) || code === 0x01
const isMetadata = (code: number) => code === COM || (code > APP0 && code <= 0xef && code !== APP14)

interface Segment {
  code: number
  start: number
  end: number
}

/** The segments up to the end of the image, entropy-coded data with the scan before it; null for what is no whole JPEG. */
function segmentsOf(bytes: Uint8Array): Segment[] | null {
  if (bytes[0] !== 0xff || bytes[1] !== SOI) return null
  const segments: Segment[] = [{ code: SOI, start: 0, end: 2 }]
  let at = 2
  while (at + 1 < bytes.length) {
    if (bytes[at] !== 0xff) return null
    while (bytes[at + 1] === 0xff) at += 1
    const code = bytes[at + 1]!
    if (code === EOI) return [...segments, { code, start: at, end: at + 2 }]
    if (isBare(code)) {
      segments.push({ code, start: at, end: at + 2 })
      at += 2
      continue
    }
    const length = (bytes[at + 2]! << 8) | bytes[at + 3]!
    if (!(length >= 2)) return null
    let end = at + 2 + length
    if (code === SOS) end = endOfScan(bytes, end)
    if (end > bytes.length) return null
    segments.push({ code, start: at, end })
    at = end
  }
  return null
}

/** Coded data ends at the first marker that is neither a stuffed byte nor a restart. */
function endOfScan(bytes: Uint8Array, from: number): number {
  let at = from
  while (at + 1 < bytes.length) {
    const code = bytes[at + 1]!
    if (bytes[at] === 0xff && code !== 0 && code !== 0xff && !(code >= 0xd0 && code <= 0xd7)) return at
    at += 1
  }
  return bytes.length
}

/** The same picture without EXIF, XMP, colour profile, comments and whatever followed its end. Null for what is no whole JPEG. */
export function withoutMetadata(jpeg: Uint8Array): Uint8Array<ArrayBuffer> | null {
  const kept = segmentsOf(jpeg)?.filter(({ code }) => !isMetadata(code))
  if (!kept) return null
  const out = new Uint8Array(kept.reduce((sum, { start, end }) => sum + end - start, 0))
  let at = 0
  for (const { start, end } of kept) {
    out.set(jpeg.subarray(start, end), at)
    at += end - start
  }
  return out
}
