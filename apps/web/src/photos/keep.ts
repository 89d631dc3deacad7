import { type Photo, type PhotoInput, photoInput, type Refusal, refusal } from '@underbough/model'
import { device, enter, refusalOfKeeping, whileNothingGoes } from '../keep/index.ts'
import { copyOf, type Draw } from './copy.ts'
import { digestOf } from './digest.ts'
import { readExif } from './exif.ts'
import { placeNow } from './fix.ts'

/** What a photo belongs to. */
export type PhotoOwner = Pick<Photo, 'ownerKind' | 'ownerId'>
/** Who takes it, at which tree, and how the queue names it: `0417 Beech: opening`. */
export interface PhotoAbout {
  authorId: string
  treeId: string | null
  label: string
}
export interface KeptHere {
  photo: PhotoInput
  /** False where this browser could not draw the file: the original is kept, and stands alone. */
  copied: boolean
}

/** The photo is not on this device, and why. */
export class NotKept extends Error {
  readonly refusals: readonly Refusal[]
  constructor(refusals: readonly Refusal[]) {
    super(refusals.map((r) => r.message).join(' '))
    this.refusals = refusals
  }
}

/** The office takes no larger file (40 MiB). */
export const MOST_BYTES = 40 * 1_048_576
/** A file this fresh was taken where its person stands. */
const JUST_NOW_MS = 120_000
const MOST_CAPTION = 400

/**
 * Keeps a photo on this device: the original bytes untouched with their digest, and beside them a smaller copy for screens. Both go to the
 * office by themselves. Throws `NotKept` where the device has no room or the file is none that the office takes; then nothing is kept of it.
 */
export async function keepPhoto(
  file: File,
  owner: PhotoOwner,
  caption: string,
  about: PhotoAbout,
): Promise<KeptHere> {
  if (file.size === 0) throw new NotKept([refusal('file-empty', 'file')])
  if (file.size > MOST_BYTES)
    throw new NotKept([
      refusal('too-large', 'file', { message: 'A photo may hold at most 40 MiB; this one is larger.' }),
    ])
  const bytes = await file.arrayBuffer()
  const written = await readExif(bytes)
  const isFresh = Math.abs(Date.now() - file.lastModified) < JUST_NOW_MS
  const photo: PhotoInput = {
    id: crypto.randomUUID(),
    ...owner,
    sha256: await digestOf(bytes),
    bytes: bytes.byteLength,
    takenAt: written.takenAt ?? (file.lastModified ? new Date(file.lastModified).toISOString() : null),
    position: written.position ?? (isFresh ? await placeNow() : null),
    caption: caption.slice(0, MOST_CAPTION),
    copyOf: null,
    copyKind: null,
  }
  await put(photo, new Blob([bytes], { type: file.type }), file.name, about)
  return { photo, copied: await keepCopy(photo, new Blob([bytes], { type: file.type }), 'screen', about) }
}

/** Keeps a copy beside its original: the smaller one, or one that is drawn on. False where the picture cannot be drawn here. */
export async function keepCopy(
  original: PhotoInput,
  picture: Blob,
  copyKind: 'screen' | 'marked',
  about: PhotoAbout,
  draw?: Draw,
): Promise<boolean> {
  const copy = await copyOf(picture, draw)
  if (!copy) return false
  const bytes = await copy.arrayBuffer()
  const photo: PhotoInput = {
    ...original,
    id: crypto.randomUUID(),
    sha256: await digestOf(bytes),
    bytes: bytes.byteLength,
    copyOf: original.id,
    copyKind,
  }
  await put(photo, copy, `${photo.id}.jpg`, about)
  return true
}

/** Says something else of a photo: the newest words stand. */
export async function keepCaption(photo: PhotoInput, caption: string, about: PhotoAbout): Promise<void> {
  const changed = photoInput.parse({ ...photo, caption: caption.slice(0, MOST_CAPTION) })
  await heldOrRefused(() => enter('photo', changed, { ...about, subjectId: photo.id }))
}

async function put(photo: PhotoInput, file: Blob, name: string, about: PhotoAbout): Promise<void> {
  await heldOrRefused(() =>
    device.transaction('rw', device.files, device.entries, device.remembered, async () => {
      // The same bytes may belong to two photos; they are kept once.
      await device.files.put({ sha256: photo.sha256, name, file, keptAt: Date.now() })
      await enter('photo', photo, { ...about, subjectId: photo.id })
    }),
  )
}

/** What is on its way is waited for: it is taken back whole or not at all. */
const heldWhileNothingGoes = (write: () => PromiseLike<void>) =>
  heldOrRefused(() => whileNothingGoes(async () => write()))

/** A write that fails is said aloud: nothing may be shown as kept that is not. */
async function heldOrRefused<T>(write: () => PromiseLike<T>): Promise<T> {
  try {
    return await write()
  } catch (error) {
    throw new NotKept([{ ...refusalOfKeeping(error, 'the photo'), path: 'file' }])
  }
}

/** Takes a photo that the office has not got off this device, with its copies; bytes that another photo shares stay. */
export async function takeBackPhoto(photoId: string): Promise<void> {
  await heldWhileNothingGoes(() =>
    device.transaction('rw', device.files, device.entries, async () => {
      const photos = await device.entries.filter(({ kind }) => kind === 'photo').toArray()
      const bodyOf = (entry: (typeof photos)[number]) => entry.body as PhotoInput
      const its = photos.filter((entry) => [bodyOf(entry).id, bodyOf(entry).copyOf].includes(photoId))
      const gone = its.filter(({ state }) => state !== 'sent')
      const left = new Set(photos.filter((entry) => !gone.includes(entry)).map((e) => bodyOf(e).sha256))
      await device.entries.bulkDelete(gone.map(({ seq }) => seq))
      await device.files.bulkDelete(gone.map((e) => bodyOf(e).sha256).filter((sha) => !left.has(sha)))
    }),
  )
}

/**
 * What photos belonged to is taken back before the office had it: they go on belonging to something else, so that none is lost and none
 * waits for ever. Those that the office has stay as they are.
 */
export async function movePhotos(fromOwnerId: string, to: PhotoOwner): Promise<void> {
  await heldWhileNothingGoes(() =>
    device.transaction('rw', device.entries, device.remembered, async () => {
      const its = await device.entries
        .filter(
          (e) => e.kind === 'photo' && e.state !== 'sent' && (e.body as PhotoInput).ownerId === fromOwnerId,
        )
        .sortBy('seq')
      for (const { seq, authorId, subjectId, treeId, label, body } of its) {
        await device.entries.delete(seq)
        await enter('photo', { ...(body as PhotoInput), ...to }, { authorId, subjectId, treeId, label })
      }
    }),
  )
}
