import { liveQuery } from 'dexie'
import { useEffect, useRef, useState } from 'react'
import { Button } from '../look/index.ts'
import { metaOf } from '../tree/photo.ts'
import { dropReadingPhoto, keepReadingPhoto, photosOfReading } from './store.ts'

interface ShownPhoto {
  id: string
  name: string
  url: string
}

/** Photos of a reading on this device, ready to be drawn. */
export function useReadingPhotos(probeId: string): readonly ShownPhoto[] {
  const [photos, setPhotos] = useState<readonly ShownPhoto[]>([])
  useEffect(() => {
    const made: string[] = []
    const watch = liveQuery(() => photosOfReading(probeId)).subscribe({
      next: (found) =>
        setPhotos(
          found.map(({ id, name, file }) => {
            const url = URL.createObjectURL(file)
            made.push(url)
            return { id, name, url }
          }),
        ),
      error: () => {},
    })
    return () => {
      watch.unsubscribe()
      for (const url of made) URL.revokeObjectURL(url)
    }
  }, [probeId])
  return photos
}

/** Takes photos of a reading; the original bytes stay on the device until the office has them. */
export function ReadingPhotos({
  probeId,
  photos,
  caption,
}: {
  probeId: string
  photos: readonly ShownPhoto[]
  caption: string
}) {
  const input = useRef<HTMLInputElement>(null)
  const take = async (file: File | undefined) => {
    if (!file) return
    const meta = await metaOf(file, { ownerKind: 'probe', ownerId: probeId }, caption)
    await keepReadingPhoto({ id: meta.id, probeId, name: file.name, file, meta })
  }
  return (
    <div className="reading-photos">
      <input
        ref={input}
        type="file"
        accept="image/*"
        capture="environment"
        className="out-of-sight"
        tabIndex={-1}
        aria-label="Photo of the core"
        onChange={(event) => {
          void take(event.target.files?.[0])
          event.target.value = ''
        }}
      />
      <Button onPress={() => input.current?.click()}>Photo of the core</Button>
      {photos.map((photo, i) => (
        <span key={photo.id} className="reading-photo">
          <img src={photo.url} alt={`Core, ${i + 1}: ${photo.name}`} />
          <Button
            kind="quiet"
            aria-label={`Take back photo ${i + 1}`}
            onPress={() => void dropReadingPhoto(photo.id)}
          >
            Take back
          </Button>
        </span>
      ))}
    </div>
  )
}
