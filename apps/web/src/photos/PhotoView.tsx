import type { PhotoInput } from '@underbough/model'
import { useState } from 'react'
import { Button, Dialog, Facts, Field, KeepingState, Notice, sayDate, sayTime } from '../look/index.ts'
import { sayPosition } from '../tree/facts.ts'
import { sayBytes, sayDigest } from './digest.ts'
import { keepCaption, NotKept, type PhotoAbout, takeBackPhoto } from './keep.ts'
import { MarkPhoto } from './MarkPhoto.tsx'
import { Picture } from './Picture.tsx'
import type { ShownPhoto } from './shown.ts'
import { glyphOf, sayPhoto, standingWords } from './words.ts'

/** One photo, large: what it shows, when and where it was taken, its digest, and where it is kept. */
export function PhotoView(props: {
  shown: ShownPhoto
  of: string
  about: PhotoAbout
  mayChange: boolean
  onClose(): void
}) {
  const { shown, of, about, mayChange, onClose } = props
  const [marking, setMarking] = useState(false)
  const [fault, setFault] = useState<string | null>(null)
  const { photo, standing } = shown
  const title = sayPhoto(shown, of)
  const held = async (act: () => Promise<unknown>) => {
    setFault(null)
    try {
      await act()
      return true
    } catch (error) {
      setFault(error instanceof NotKept ? error.message : 'It could not be done on this device.')
      return false
    }
  }
  if (marking)
    return (
      <Dialog
        className="photo-dialog"
        title="Draw on a copy"
        isOpen
        onClose={() => setMarking(false)}
        isDismissable={false}
      >
        <MarkPhoto shown={shown} about={about} onDone={() => setMarking(false)} />
      </Dialog>
    )
  return (
    <Dialog
      className="photo-dialog"
      title={title}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button kind="do" onPress={onClose}>
            Done
          </Button>
          {mayChange ? <Button onPress={() => setMarking(true)}>Draw on a copy</Button> : null}
        </>
      }
    >
      <div className="photo-large">
        <Picture shown={shown} alt={title} />
      </div>
      <KeepingState keeping={glyphOf(standing)}>{standingWords[standing]}</KeepingState>
      {shown.refusals.length > 0 ? (
        <Notice tone="refused" title="The office did not take it.">
          {shown.refusals.map((r) => r.message).join(' ')} The photo stays on this phone.
        </Notice>
      ) : null}
      {fault ? (
        <Notice tone="refused" title="Not kept.">
          {fault}
        </Notice>
      ) : null}
      {mayChange ? (
        <Caption
          key={photo.caption}
          photo={photo}
          onKeep={(words) => held(() => keepCaption(photo, words, about))}
        />
      ) : null}
      <Facts rows={factsOf(photo)} />
      {mayChange && standing !== 'at-the-office' ? (
        <Button
          kind="quiet"
          onPress={() => void held(() => takeBackPhoto(photo.id)).then((done) => done && onClose())}
        >
          Take this photo back
        </Button>
      ) : null}
    </Dialog>
  )
}

function Caption({ photo, onKeep }: { photo: PhotoInput; onKeep(words: string): Promise<boolean> }) {
  const [words, setWords] = useState(photo.caption)
  return (
    <div className="photo-caption">
      <Field label="What it shows" value={words} onChange={setWords} />
      <Button isDisabled={words.trim() === photo.caption} onPress={() => void onKeep(words.trim())}>
        Keep the words
      </Button>
    </div>
  )
}

function factsOf(photo: PhotoInput): [string, string][] {
  return [
    [
      'Taken',
      photo.takenAt
        ? `${sayDate(photo.takenAt.slice(0, 10))}, ${sayTime(photo.takenAt)}`
        : 'not said by the camera',
    ],
    ['Where', photo.position ? sayPosition(photo.position) : 'not known'],
    ['Size', sayBytes(photo.bytes)],
    ['SHA-256', sayDigest(photo.sha256)],
  ]
}
