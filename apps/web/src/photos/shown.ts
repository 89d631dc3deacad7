import type { KeptEntry } from '@underbough/field'
import type { Photo, PhotoInput, Refusal } from '@underbough/model'

export type PhotoStanding = 'on-this-phone' | 'at-the-office' | 'refused'

/** A photo as it is shown: what this device keeps and what the office has, one for each original and each marked copy. */
export interface ShownPhoto {
  photo: PhotoInput
  standing: PhotoStanding
  refusals: readonly Refusal[]
  /** Bytes on this device, the smallest that show it first; null where the office shows it. */
  here: Blob | null
  /** The original bytes on this device; null where they are only at the office. */
  original: Blob | null
}

type Files = ReadonlyMap<string, Blob>

/**
 * Puts together what is known of photos. The newest words stand; a photo is at the office once each of its entries is; a screen copy is not
 * shown for itself but in its original's place; marked copies follow what they were drawn on.
 */
export function shownPhotos(
  entries: readonly KeptEntry[],
  files: Files,
  atOffice: readonly Photo[],
): ShownPhoto[] {
  const photos = new Map<string, { photo: PhotoInput; entries: KeptEntry[] }>()
  for (const photo of atOffice) photos.set(photo.id, { photo, entries: [] })
  for (const entry of [...entries].sort((a, b) => a.seq - b.seq)) {
    const photo = entry.body as PhotoInput
    const known = photos.get(photo.id)
    photos.set(photo.id, { photo, entries: [...(known?.entries ?? []), entry] })
  }
  const all = [...photos.values()]
  const screens = new Map(
    all.filter(({ photo }) => photo.copyKind === 'screen').map(({ photo }) => [photo.copyOf, photo]),
  )
  const shown = all
    .filter(({ photo }) => photo.copyKind !== 'screen')
    .map(({ photo, entries: its }): ShownPhoto => {
      const screen = screens.get(photo.id)
      const original = files.get(photo.sha256) ?? null
      return {
        photo,
        standing: standingOf(its),
        refusals: its.flatMap((entry) => entry.refusals),
        here: (screen && files.get(screen.sha256)) ?? original,
        original,
      }
    })
  return shown.sort((a, b) => placeOf(a.photo, photos) - placeOf(b.photo, photos))
}

function standingOf(entries: readonly KeptEntry[]): PhotoStanding {
  if (entries.some(({ state }) => state === 'refused')) return 'refused'
  return entries.some(({ state }) => state === 'waiting') ? 'on-this-phone' : 'at-the-office'
}

/** Originals in the order they were taken up, each with its marked copies after it. */
function placeOf(photo: PhotoInput, photos: ReadonlyMap<string, unknown>): number {
  const order = [...photos.keys()]
  const of = order.indexOf(photo.copyOf ?? photo.id)
  return (of < 0 ? order.indexOf(photo.id) : of) + (photo.copyOf ? 0.5 : 0)
}
