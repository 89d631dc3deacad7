import { done, type Outcome, type Refusal, refused } from '@underbough/model'
import { analyse } from 'chardet'
import { say } from './codes.ts'

const SAMPLE_BYTES = 65_536
/** Text holds next to no control characters; random bytes are one ninth control characters. Assumption. */
const CONTROL_SHARE_LIMIT = 0.01

const signatures: [name: string, bytes: number[]][] = [
  ['a ZIP archive or a spreadsheet workbook', [0x50, 0x4b, 0x03, 0x04]],
  ['a compressed file (gzip)', [0x1f, 0x8b]],
  ['a database or GeoPackage', [0x53, 0x51, 0x4c, 0x69, 0x74, 0x65]],
  ['a PDF document', [0x25, 0x50, 0x44, 0x46]],
  ['a PNG picture', [0x89, 0x50, 0x4e, 0x47]],
  ['a JPEG picture', [0xff, 0xd8, 0xff]],
  ['a shapefile', [0x00, 0x00, 0x27, 0x0a]],
  ['an old spreadsheet workbook', [0xd0, 0xcf, 0x11, 0xe0]],
]

/** Text of a file and the encoding it was read in. */
export interface DecodedText {
  text: string
  encoding: string
}

/**
 * Bytes to text. A byte order mark is believed; then strict UTF-8; then UTF-16 by its zero bytes; what is left is
 * guessed from the letters and gives the note `file-encoding-guessed`.
 * @param encoding a label of the Encoding Standard (https://encoding.spec.whatwg.org) which a person chose
 * @returns refused with `file-empty`, `file-not-text`, `file-not-this-format`, or `unknown` for an encoding's name
 */
export function decodeText(bytes: Uint8Array, encoding?: string): Outcome<DecodedText> {
  if (bytes.length === 0) return refused(empty())
  const kind = signatures.find(([, start]) => start.every((byte, i) => bytes[i] === byte))
  if (kind)
    return refused(
      say('file-not-this-format', '', `This is ${kind[0]}, not a table of text. Save it as CSV or GeoJSON.`),
    )
  const outcome = encoding ? decodeAs(bytes, encoding) : guess(bytes)
  if (outcome.ok && outcome.value.text.trim() === '') return refused(empty())
  return outcome
}

const empty = () => say('file-empty', '', 'The file holds nothing. Choose another, or export it again.')

function decodeAs(bytes: Uint8Array, encoding: string): Outcome<DecodedText> {
  try {
    return done({ text: new TextDecoder(encoding).decode(bytes), encoding })
  } catch {
    return refused(
      say('unknown', 'encoding', `No encoding is called “${encoding}”. Try utf-8 or windows-1252.`, {
        value: encoding,
      }),
    )
  }
}

function guess(bytes: Uint8Array): Outcome<DecodedText> {
  const marked = byteOrderMark(bytes)
  if (marked) return decodeAs(bytes, marked)
  const sample = bytes.subarray(0, SAMPLE_BYTES)
  const wide = wideByZeros(sample)
  if (wide) return decodedWithNote(bytes, wide)
  if (controlShare(sample) > CONTROL_SHARE_LIMIT)
    return refused(
      say(
        'file-not-text',
        '',
        'The file is not text in any encoding known here. Export it as CSV or GeoJSON.',
      ),
    )
  try {
    return done({ text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), encoding: 'utf-8' })
  } catch {
    return decodedWithNote(bytes, byLetters(bytes))
  }
}

function decodedWithNote(bytes: Uint8Array, encoding: string): Outcome<DecodedText> {
  const outcome = decodeAs(bytes, encoding)
  if (!outcome.ok) return outcome
  const note: Refusal = say(
    'file-encoding-guessed',
    'encoding',
    `The encoding was guessed as ${encoding}. Look at names with accents; choose another encoding if they are wrong.`,
    { value: encoding },
  )
  return done(outcome.value, [note])
}

function byteOrderMark(bytes: Uint8Array): string | null {
  const [a, b, c] = bytes
  if (a === 0xef && b === 0xbb && c === 0xbf) return 'utf-8'
  if (a === 0xff && b === 0xfe) return 'utf-16le'
  if (a === 0xfe && b === 0xff) return 'utf-16be'
  return null
}

/** Western text in UTF-16 has a zero in every second byte. */
function wideByZeros(sample: Uint8Array): string | null {
  const zeros = [0, 0]
  for (let i = 0; i < sample.length; i++) if (sample[i] === 0) zeros[i % 2]!++
  const [even, odd] = zeros.map((n) => n / Math.max(1, sample.length / 2)) as [number, number]
  if (odd > 0.4 && even < 0.05) return 'utf-16le'
  return even > 0.4 && odd < 0.05 ? 'utf-16be' : null
}

function controlShare(sample: Uint8Array): number {
  let control = 0
  for (const byte of sample)
    if (byte < 32 ? byte !== 9 && byte !== 10 && byte !== 13 && byte !== 12 : byte === 127) control++
  return control / sample.length
}

/** Lets the detector see only the lines that hold letters beyond ASCII, or a long file of digits drowns them. */
function byLetters(bytes: Uint8Array): string {
  const picked = new Uint8Array(SAMPLE_BYTES)
  let filled = 0
  for (let i = 0; i < bytes.length && filled < SAMPLE_BYTES - 64; i++) {
    if (bytes[i]! < 128) continue
    const piece = bytes.subarray(Math.max(0, i - 24), Math.min(bytes.length, i + 24))
    picked.set(piece, filled)
    filled += piece.length
    i += 24
  }
  for (const { name } of analyse(picked.subarray(0, filled))) {
    if (/^utf/i.test(name)) continue
    try {
      return new TextDecoder(name).encoding
    } catch {
      // The detector knows encodings that the platform does not; the next guess is taken.
    }
  }
  return 'windows-1252'
}
