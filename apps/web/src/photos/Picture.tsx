import { useEffect, useState } from 'react'
import type { ShownPhoto } from './shown.ts'

/** The picture of a photo, from this device where it is here, else from the office. */
export function Picture({ shown, alt }: { shown: ShownPhoto; alt: string }) {
  const source = useSource(shown)
  const [unseen, setUnseen] = useState<string | null>(null)
  if (!source) return <span className="photo-unseen" />
  if (unseen === source)
    return (
      <span className="photo-unseen" role="img" aria-label={alt}>
        {shown.here ? 'Kept; this browser cannot draw it' : 'Not on this phone'}
      </span>
    )
  return <img src={source} alt={alt} draggable={false} onError={() => setUnseen(source)} />
}

/** The address of a photo's picture: of the smaller copy where there is one. */
function useSource({ here, photo }: ShownPhoto): string | null {
  const [source, setSource] = useState<string | null>(null)
  const isScreen = photo.copyKind === null
  useEffect(() => {
    if (!here) {
      setSource(`/api/photos/${photo.id}${isScreen ? '?copy=screen' : ''}`)
      return
    }
    const made = URL.createObjectURL(here)
    setSource(made)
    return () => URL.revokeObjectURL(made)
  }, [here, photo.id, isScreen])
  return source
}
