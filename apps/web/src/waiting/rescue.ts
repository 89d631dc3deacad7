import type { KeptEntry } from '@underbough/field'
import { device } from '../keep/index.ts'

/** Bytes as base64 (RFC 4648), in strings short enough for any browser. Each string stands for whole groups of three bytes. */
export async function base64Of(file: Blob): Promise<string[]> {
  const step = 3 * 65_536
  const out: string[] = []
  for (let from = 0; from < file.size; from += step) {
    const bytes = new Uint8Array(await file.slice(from, from + step).arrayBuffer())
    let letters = ''
    for (let i = 0; i < bytes.length; i += 8192)
      letters += String.fromCharCode(...bytes.subarray(i, i + 8192))
    out.push(btoa(letters))
  }
  return out
}

/** What waits, whole, as one JSON file: entries as they would be sent, and the original bytes they name. For the day a device cannot send. */
export async function rescueFile(entries: readonly KeptEntry[], now: Date): Promise<Blob> {
  const digests = [...new Set(entries.map(({ body }) => (body as { sha256?: string } | null)?.sha256))]
  const files = await device.files.bulkGet(digests.filter((sha256) => sha256 !== undefined))
  const head = { of: 'Underbough: entries of a device that are not at the office', madeAt: now.toISOString() }
  const parts: string[] = [
    `${JSON.stringify(head).slice(0, -1)},"entries":${JSON.stringify(entries)},"files":[`,
  ]
  for (const [i, kept] of files.filter((one) => one !== undefined).entries()) {
    const { sha256, name, file } = kept
    const named = JSON.stringify({ sha256, name, mediaType: file.type, bytes: file.size }).slice(0, -1)
    parts.push(`${i > 0 ? ',' : ''}${named},"base64":"`, ...(await base64Of(file)), '"}')
  }
  return new Blob([...parts, ']}'], { type: 'application/json' })
}
