import type { Photo, PhotoInput } from '@underbough/model'
import { useMemo } from 'react'
import { device, useLive } from '../keep/index.ts'
import { type ShownPhoto, shownPhotos } from './shown.ts'

/** Identifiers of what photos belong to, or whose they are. */
type Of = readonly string[] | { authorId: string }
const none: readonly Photo[] = []

/**
 * Photos of some owners, or all that one person took at the tree, from this device and from the office's answer; changes by itself as
 * they are taken, sent and marked. A browser that keeps nothing shows what the office has.
 */
export function usePhotos(treeId: string, of: Of, atOffice: readonly Photo[] = none): readonly ShownPhoto[] {
  const about = `photos ${treeId} ${JSON.stringify(of)}`
  const here = useLive<Here>(about, () => read(treeId, of), nothingHere)
  return useMemo(() => shownPhotos(here.entries, here.files, atOffice), [here, atOffice])
}

type Here = Awaited<ReturnType<typeof read>>
const nothingHere: Here = { entries: [], files: new Map() }

async function read(treeId: string, of: Of) {
  const entries = await device.entries
    .where({ treeId })
    .filter(
      ({ kind, body, authorId }) =>
        kind === 'photo' &&
        ('authorId' in of ? authorId === of.authorId : of.includes((body as PhotoInput).ownerId)),
    )
    .toArray()
  const digests = [...new Set(entries.map(({ body }) => (body as PhotoInput).sha256))]
  const files = await device.files.bulkGet(digests)
  return {
    entries,
    files: new Map(files.flatMap((one) => (one ? [[one.sha256, one.file] as const] : []))),
  }
}
