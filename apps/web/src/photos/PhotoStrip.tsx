import { KeepingGlyph } from '@underbough/pictures'
import { useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import type { PhotoAbout } from './keep.ts'
import { PhotoView } from './PhotoView.tsx'
import { Picture } from './Picture.tsx'
import type { ShownPhoto } from './shown.ts'
import { glyphOf, sayPhoto, sayStandings, standingWords } from './words.ts'
import './photos.css'

/** Photos in a row; each opens large. Below them, where they are. */
export function PhotoStrip(props: {
  photos: readonly ShownPhoto[]
  about: PhotoAbout
  /** What a photo without a caption shows: `opening`. */
  of: string
  /** Large tiles with their captions, for a page; else small ones for a form. */
  large?: boolean
  /** May change captions and draw on copies. */
  mayChange?: boolean
}) {
  const { photos, about, of, large = false, mayChange = true } = props
  const [openId, setOpenId] = useState<string | null>(null)
  if (photos.length === 0) return null
  const open = photos.find(({ photo }) => photo.id === openId) ?? null
  return (
    <div className="photos">
      <ul className={large ? 'photo-strip photo-strip-large' : 'photo-strip'} aria-label="Photos">
        {photos.map((shown, i) => (
          <li key={shown.photo.id}>
            <AriaButton className="photo-tile" onPress={() => setOpenId(shown.photo.id)}>
              <Picture shown={shown} alt={nameOf(shown, of, i, photos.length)} />
              <span className="photo-standing" title={standingWords[shown.standing]}>
                <KeepingGlyph keeping={glyphOf(shown.standing)} hidden />
              </span>
              <span className="out-of-sight">, {standingWords[shown.standing]}</span>
            </AriaButton>
            {large ? <span className="s">{sayPhoto(shown, of)}</span> : null}
          </li>
        ))}
      </ul>
      <p className="q photo-words">{sayStandings(photos)}</p>
      {open ? (
        <PhotoView shown={open} of={of} about={about} mayChange={mayChange} onClose={() => setOpenId(null)} />
      ) : null}
    </div>
  )
}

function nameOf(shown: ShownPhoto, of: string, i: number, n: number): string {
  return `Photo ${i + 1} of ${n}: ${sayPhoto(shown, of)}`
}
