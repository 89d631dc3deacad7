import type { Photo, PhotoInput } from '@underbough/model'
import { liveQuery } from 'dexie'
import { useEffect, useMemo, useState } from 'react'
import { device } from '../keep/device.ts'
import { type ShownPhoto, shownPhotos } from './shown.ts'

const none: readonly Photo[] = []

/**
 * Photos of some owners, from this device and from the office's answer; changes by itself as they are taken, sent and marked.
 * Without owners: all photos of the tree on this device. A browser that keeps nothing shows what the office has.
 */
export function usePhotos(
  treeId: string,
  ownerIds: readonly string[] | null,
  atOffice: readonly Photo[] = none,
): readonly ShownPhoto[] {
  const [here, setHere] = useState<Here>(nothingHere)
  const owners = ownerIds?.join(' ') ?? null
  useEffect(() => {
    const watch = liveQuery(() => read(treeId, owners?.split(' ') ?? null)).subscribe({
      next: setHere,
      error: () => setHere(nothingHere),
    })
    return () => watch.unsubscribe()
  }, [treeId, owners])
  return useMemo(() => shownPhotos(here.entries, here.files, atOffice), [here, atOffice])
}

type Here = Awaited<ReturnType<typeof read>>
const nothingHere: Here = { entries: [], files: new Map() }

async function read(treeId: string, owners: readonly string[] | null) {
  const entries = await device.entries
    .where({ treeId })
    .filter(
      ({ kind, body }) => kind === 'photo' && (!owners || owners.includes((body as PhotoInput).ownerId)),
    )
    .toArray()
  const digests = [...new Set(entries.map(({ body }) => (body as PhotoInput).sha256))]
  const files = await device.files.bulkGet(digests)
  return {
    entries,
    files: new Map(files.flatMap((one) => (one ? [[one.sha256, one.file] as const] : []))),
  }
}
