import { createHash } from 'node:crypto'
import type { Photo } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { insertPhoto, ownerExists } from './queries.ts'

const MOST_BYTES = 40 * 1024 * 1024

/** What the first bytes say a picture is; its name and stated type are not believed. */
export function pictureType(bytes: Uint8Array): string | null {
  const starts = (...head: number[]) => head.every((byte, i) => bytes[i] === byte)
  if (starts(0xff, 0xd8, 0xff)) return 'image/jpeg'
  if (starts(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png'
  const word = new TextDecoder('latin1').decode(bytes.subarray(4, 12))
  if (/^ftyp(heic|heix|mif1|msf1|avif)/.test(word)) return word.endsWith('avif') ? 'image/avif' : 'image/heic'
  if (starts(0x52, 0x49, 0x46, 0x46) && new TextDecoder('latin1').decode(bytes.subarray(8, 12)) === 'WEBP')
    return 'image/webp'
  return null
}

/** Keeps the original bytes as they came, with their SHA-256; a digest made on the device must agree. */
export async function keepPhoto(
  deps: Deps,
  person: Person,
  meta: Pick<Photo, 'id' | 'ownerKind' | 'ownerId' | 'takenAt' | 'position' | 'caption'> & {
    sha256?: string
  },
  content: Uint8Array,
): Promise<Photo> {
  const organisationId = person.organisation.id
  if (content.length === 0) refuse('file-empty', 'file')
  if (content.length > MOST_BYTES)
    refuse('too-large', 'file', 'A photo may hold at most 40 MiB.', { limit: 'at most 40 MiB' })
  const mediaType =
    pictureType(content) ??
    refuse(
      'file-not-this-format',
      'file',
      'This is no picture in a format known here: JPEG, PNG, WebP, AVIF or HEIC.',
    )
  const sha256 = createHash('sha256').update(content).digest('hex')
  if (meta.sha256 && meta.sha256 !== sha256)
    refuse('malformed', 'sha256', 'The photo changed on its way: its digest is another. Send it again.')
  if (!(await ownerExists(deps.database.db, organisationId, meta.ownerKind, meta.ownerId)))
    refuse('unknown', 'ownerId', 'What this photo belongs to is not here yet.')
  const { sha256: _, ...rest } = meta
  const photo: Photo = { copyOf: null, copyKind: null, ...rest, sha256, bytes: content.length, mediaType }
  await deps.database.transaction((tx) => insertPhoto(tx, organisationId, photo, content))
  return photo
}
