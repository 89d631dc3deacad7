import type { Photo } from '@underbough/model'
import { useRef, useState } from 'react'
import { refusalsOf, type TreeWhole } from '../api/index.ts'
import { Button, Empty, Field, Notice, Plate, Refusals, sayDate } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { useSendPhoto } from './hooks.ts'
import { metaOf, type PhotoMeta, photoForm, sayBytes, shortDigest } from './photo.ts'

interface Chosen {
  file: File
  meta: PhotoMeta
  url: string
}

/** Photos of the tree and of what was found on it. The digest is made here, before the bytes leave. */
export function PhotosPlate({ no, whole }: { no: number; whole: TreeWhole }) {
  const { photos, tree } = whole
  const { role } = usePerson()
  const input = useRef<HTMLInputElement>(null)
  const [chosen, setChosen] = useState<Chosen | null>(null)
  const send = useSendPhoto()
  const choose = async (file: File | undefined) => {
    if (!file) return
    send.reset()
    setChosen({
      file,
      meta: await metaOf(file, { ownerKind: 'tree', ownerId: tree.id }, ''),
      url: URL.createObjectURL(file),
    })
  }
  const letGo = () => {
    if (chosen) URL.revokeObjectURL(chosen.url)
    setChosen(null)
  }
  return (
    <Plate no={no} title="Photos" aside="original bytes are kept" className="tree-photos wide">
      {photos.length === 0 && !chosen ? (
        <Empty title="No photos yet.">Those taken on visits stand here too, each with its digest.</Empty>
      ) : (
        <ul className="tree-photo-list">
          {photos.map((photo) => (
            <PhotoTile key={photo.id} photo={photo} of={ownerWords(whole, photo)} />
          ))}
        </ul>
      )}
      {role === 'client' ? null : (
        <>
          <input
            ref={input}
            type="file"
            accept="image/jpeg,image/png,image/webp,image/avif,image/heic"
            className="out-of-sight"
            aria-label="Choose a photo"
            tabIndex={-1}
            onChange={(event) => {
              void choose(event.target.files?.[0])
              event.target.value = ''
            }}
          />
          {chosen ? null : (
            <div className="tree-more">
              <Button onPress={() => input.current?.click()}>Add a photo</Button>
            </div>
          )}
        </>
      )}
      {chosen ? (
        <div className="tree-chosen">
          <img src={chosen.url} alt={chosen.meta.caption || chosen.file.name} />
          <div>
            <p className="s q">
              {chosen.file.name}, {sayBytes(chosen.file.size)}. SHA-256, made on this device:
            </p>
            <p className="s tree-digest">{chosen.meta.sha256}</p>
            <Field
              label="What it shows"
              value={chosen.meta.caption}
              onChange={(caption) => setChosen({ ...chosen, meta: { ...chosen.meta, caption } })}
            />
            <Refusals
              title="The photo did not reach the office."
              refusals={refusalsOf(send.error)}
              kept="It is still chosen here."
            />
            <div className="row c tree-more">
              <Button
                kind="do"
                isDisabled={send.isPending}
                onPress={() =>
                  send.mutate(
                    { form: photoForm(chosen.file, chosen.file.name, chosen.meta) },
                    { onSuccess: letGo },
                  )
                }
              >
                Keep the photo
              </Button>
              <Button onPress={letGo}>Put back</Button>
            </div>
          </div>
        </div>
      ) : send.isSuccess ? (
        <Notice tone="kept" title="The photo is in the office.">
          The digest made there is the same.
        </Notice>
      ) : null}
    </Plate>
  )
}

function PhotoTile({ photo, of }: { photo: Photo; of: string }) {
  const [unseen, setUnseen] = useState(false)
  const words = photo.caption || of
  return (
    <li>
      <a href={`/api/photos/${photo.id}`} target="_blank" rel="noreferrer">
        {unseen ? (
          <span className="tree-unseen s q">
            This browser cannot draw {photo.mediaType}. The file is kept.
          </span>
        ) : (
          <img src={`/api/photos/${photo.id}`} alt={words} loading="lazy" onError={() => setUnseen(true)} />
        )}
      </a>
      <p className="s">{words}</p>
      <p className="s q">
        {photo.takenAt ? `${sayDate(photo.takenAt.slice(0, 10))}, ` : ''}
        {sayBytes(photo.bytes)}, <span title={photo.sha256}>{shortDigest(photo.sha256)}</span>
      </p>
    </li>
  )
}

function ownerWords(whole: TreeWhole, photo: Photo): string {
  for (const visit of whole.visits) {
    if (photo.ownerId === visit.id) return `Visit of ${sayDate(visit.startedAt.slice(0, 10))}`
    const finding = visit.findings.find((f) => f.id === photo.ownerId)
    if (finding) return `${finding.kind}, ${sayDate(visit.startedAt.slice(0, 10))}`
  }
  return photo.ownerKind === 'tree' ? 'The tree' : photo.ownerKind
}
