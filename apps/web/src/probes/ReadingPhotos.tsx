import { useEffect, useState } from 'react'
import { PhotoNews, PhotoPress, PhotoStrip, type ShownPhoto, usePhotos, useTaking } from '../photos/index.ts'
import type { KeptReading } from './store.ts'

/** Photos of a reading on this device, and the first of them ready to be drawn beside the core. */
export function useReadingPhotos({ treeId, id }: Pick<KeptReading, 'treeId' | 'id'>) {
  const photos = usePhotos(treeId, [id])
  const first = photos[0]?.here ?? null
  const [href, setHref] = useState<string | null>(null)
  useEffect(() => {
    if (!first) return setHref(null)
    const made = URL.createObjectURL(first)
    setHref(made)
    return () => URL.revokeObjectURL(made)
  }, [first])
  return { photos, drawn: href ? { href, says: photos[0]?.photo.caption || 'Photo of the core' } : null }
}

/** Takes photos of a reading; they stay on the device until the office has them, and go after the reading. */
export function ReadingPhotos({
  reading,
  photos,
  caption,
}: {
  reading: Pick<KeptReading, 'treeId' | 'id' | 'personId'>
  photos: readonly ShownPhoto[]
  caption: string
}) {
  const about = {
    authorId: reading.personId,
    treeId: reading.treeId,
    label: `Photo of a reading: ${caption}`,
  }
  const taking = useTaking({ ownerKind: 'probe', ownerId: reading.id }, caption, about)
  return (
    <div className="reading-photos">
      <PhotoStrip photos={photos} about={about} of={caption} />
      <PhotoNews taking={taking} />
      <div className="photo-presses">
        <PhotoPress taking={taking} from="camera" label="Photo of the core">
          Photo of the core
        </PhotoPress>
        <PhotoPress
          taking={taking}
          from="files"
          kind="quiet"
          label="Photos of the core that were taken before"
        >
          Taken before
        </PhotoPress>
      </div>
    </div>
  )
}
