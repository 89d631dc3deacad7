import type { Photo, Position } from '@underbough/model'

/** What goes with the bytes of a photo. */
export type PhotoMeta = Pick<Photo, 'id' | 'ownerKind' | 'ownerId' | 'takenAt' | 'position' | 'caption'> & {
  sha256: string
}

/** SHA-256 of the original bytes as 64 hexadecimal digits, made on this device (FIPS 180-4, by the browser's own crypto). */
export async function digestOf(bytes: ArrayBuffer): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes)
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}

/** The original file, untouched, and its particulars as the office takes them. */
export function photoForm(file: Blob, name: string, meta: PhotoMeta): FormData {
  const form = new FormData()
  form.set('file', file, name)
  form.set('meta', JSON.stringify(meta))
  return form
}

/** Particulars of a file just chosen. A camera's file bears the time it was taken as its own time of change. */
export async function metaOf(
  file: File,
  owner: { ownerKind: Photo['ownerKind']; ownerId: string },
  caption: string,
  position: Position | null = null,
): Promise<PhotoMeta> {
  return {
    id: crypto.randomUUID(),
    ...owner,
    takenAt: file.lastModified ? new Date(file.lastModified).toISOString() : null,
    position,
    caption,
    sha256: await digestOf(await file.arrayBuffer()),
  }
}

/** The first and last digits of a digest, in groups that can be read aloud. */
export const shortDigest = (sha256: string) =>
  `${sha256.slice(0, 4)} ${sha256.slice(4, 8)} … ${sha256.slice(-4)}`
/** `3.4 MB`, `180 kB`. */
export const sayBytes = (bytes: number) =>
  bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`
