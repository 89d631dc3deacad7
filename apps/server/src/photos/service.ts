import { createHash } from 'node:crypto'
import { type Photo, type PhotoInput, photoInput } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refusalsOf, refuse } from '../http/problem.ts'
import { metadataIn, mostPhotoBytes, pictureType, unknownPicture } from './picture.ts'
import * as queries from './queries.ts'

/** The particulars that come with a photo's bytes in one message. */
const metaInput = photoInput.omit({ sha256: true, bytes: true }).extend({
  sha256: photoInput.shape.sha256.optional(),
})

/** Keeps the original bytes as they came, with their SHA-256; a digest made on the device must agree. `given` is the particulars. */
export async function keepPhoto(
  deps: Deps,
  person: Person,
  given: unknown,
  content: Uint8Array,
): Promise<Photo> {
  const read = metaInput.safeParse(given)
  if (!read.success) throw new Refused(refusalsOf(read.error, given))
  const { sha256: said, ...meta } = read.data
  if (content.length === 0) refuse('file-empty', 'file')
  if (content.length > mostPhotoBytes)
    refuse('too-large', 'file', 'A photo may hold at most 40 MiB.', { limit: 'at most 40 MiB' })
  if (!pictureType(content)) throw new Refused([unknownPicture('file')])
  const sha256 = createHash('sha256').update(content).digest('hex')
  if (said && said !== sha256)
    refuse('malformed', 'sha256', 'The photo changed on its way: its digest is another. Send it again.')
  return deps.database.transaction(async (tx) => {
    if (!(await queries.ownerExists(tx, person.organisation.id, meta.ownerKind, meta.ownerId)))
      refuse('unknown', 'ownerId', 'What this photo belongs to is not here yet.')
    await queries.insertBytes(tx, person.organisation.id, sha256, content)
    return store(tx, person, { ...meta, sha256, bytes: content.length }, content)
  })
}

/** Keeps the particulars of a photo whose bytes came ahead, piece by piece. Refused (`bytes-missing`, `owner-missing`) until both are here. */
export async function keepPhotoOf(deps: Deps, person: Person, input: PhotoInput): Promise<Photo> {
  const organisationId = person.organisation.id
  return deps.database.transaction(async (tx) => {
    const content = await queries.bytesOf(tx, organisationId, input.sha256)
    if (!content) refuse('bytes-missing', 'sha256')
    if (content.length !== input.bytes)
      refuse('malformed', 'bytes', `The photo holds ${content.length} bytes, not ${input.bytes}.`, {
        value: input.bytes,
      })
    if (!(await queries.ownerExists(tx, organisationId, input.ownerKind, input.ownerId)))
      refuse('owner-missing', 'ownerId')
    return store(tx, person, input, content)
  })
}

async function store(
  tx: Parameters<typeof queries.insertPhoto>[0],
  person: Person,
  input: PhotoInput,
  content: Uint8Array,
): Promise<Photo> {
  checkCopy(input, content)
  const stored = await queries.insertPhoto(tx, person.organisation.id, {
    ...input,
    mediaType: pictureType(content)!,
  })
  if (stored.sha256 !== input.sha256 || stored.ownerId !== input.ownerId)
    refuse('conflict', 'id', 'Another photo bears this identifier. Nothing was written.')
  return stored
}

/** A copy is made to be shown and shared: it must not say where and with what it was taken. */
function checkCopy({ copyOf, copyKind }: PhotoInput, content: Uint8Array) {
  if ((copyOf === null) !== (copyKind === null))
    refuse('required', copyOf === null ? 'copyOf' : 'copyKind', 'A copy says what of, and of which kind.')
  if (copyOf === null) return
  const metadata = metadataIn(content)
  if (metadata === null)
    refuse('file-not-this-format', 'copyOf', 'A copy is a JPEG, PNG or WebP picture. The original is kept.')
  if (metadata.length > 0)
    refuse(
      'malformed',
      'copyOf',
      'A copy must hold the picture alone; this one says more. The original is kept.',
      {
        value: metadata.join(', '),
      },
    )
}

/**
 * The bytes to show for a photo. `screen` asks for the newest copy made for screens, and gives the original where there is none. A client
 * gets a copy wherever one exists: an original holds where it was taken and by what.
 */
export async function photoToShow(deps: Deps, person: Person, id: string, copy: 'screen' | undefined) {
  const { db } = deps.database
  const organisationId = person.organisation.id
  const asked = await queries.photoById(db, organisationId, id)
  if (!asked) refuse('unknown', 'id', 'There is no such photo.')
  const original = asked.copyOf === null
  const wanted = copy === 'screen' || person.role === 'client'
  const kinds = person.role === 'client' ? (['screen', 'marked'] as const) : (['screen'] as const)
  const found = original && wanted ? await queries.newestCopy(db, organisationId, id, [...kinds]) : null
  const photo = found ?? asked
  const content = await queries.bytesOf(db, organisationId, photo.sha256)
  // Where a copy was asked for and is not here yet, the same address will give another picture.
  return { ...photo, content: content!, forGood: !wanted || !original || found !== null }
}
