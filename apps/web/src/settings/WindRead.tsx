import type { Site, WindFile, WindMapping } from '@underbough/model'
import { useId, useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import { Button, count, Notice, Plate, Refusals } from '../look/index.ts'
import { missingOf, startingThreshold, type WindDraft, WindFields } from './WindFields.tsx'
import { WindVerdict } from './WindVerdict.tsx'
import { useLookAtWind, useReadWind } from './windHooks.ts'

/** A file of hourly weather: choose, say how it is read, see what became of it, and take its rose or leave it. */
export function WindRead({ site }: { site: Site }) {
  const [file, setFile] = useState<File | null>(null)
  const [read, setRead] = useState<WindFile | null>(null)
  const look = useLookAtWind(site.id)
  const id = useId()
  const again = () => {
    setFile(null)
    setRead(null)
    look.reset()
  }
  const choose = (chosen: File | null) => {
    setFile(chosen)
    setRead(null)
    look.reset()
    if (chosen) look.mutate(chosen)
  }
  return (
    <Plate title="Read hourly weather" aside={site.name}>
      <p className="prose q">
        A file of hourly weather from a station near the site, as weather services give it: text with columns,
        at most 32 MiB, packed with gzip or not. The site keeps its rose until you take the new one.
      </p>
      {read ? (
        <WindVerdict site={site} file={read} onAgain={again} />
      ) : (
        <>
          <div className="file-field wind-file">
            <label htmlFor={id} className="field-label">
              File
            </label>
            <input
              id={id}
              type="file"
              accept=".csv,.txt,.tsv,.gz"
              onChange={(event) => choose(event.target.files?.[0] ?? null)}
            />
          </div>
          <Refusals
            title="The file was not taken."
            refusals={refusalsOf(look.error)}
            kept="Nothing was written. Choose another file."
          />
          {look.isPending ? <p className="q">Looking at the file.</p> : null}
          {file && look.data ? (
            <WindForm
              key={file.name + file.size}
              site={site}
              file={file}
              looked={look.data}
              onRead={setRead}
            />
          ) : null}
        </>
      )}
    </Plate>
  )
}

function WindForm({
  site,
  file,
  looked,
  onRead,
}: {
  site: Site
  file: File
  looked: NonNullable<ReturnType<typeof useLookAtWind>['data']>
  onRead(file: WindFile): void
}) {
  const read = useReadWind(site.id)
  const [draft, setDraft] = useState<WindDraft>({
    mapping: looked.mapping,
    station: looked.mapping.station?.value ?? '',
    distanceKm: null,
    averagingSeconds: 3,
    threshold: startingThreshold,
  })
  const missing = missingOf(draft)
  const send = () =>
    read.mutate(
      {
        file,
        request: {
          ...draft,
          mapping: draft.mapping as WindMapping,
          station: draft.station.trim(),
          distanceKm: draft.distanceKm!,
        },
      },
      { onSuccess: onRead },
    )
  return (
    <>
      <p>
        <b>{count(looked.rows, 'row')}.</b> What is filled in below was guessed from the file; look at each.
      </p>
      <WindFields
        looked={looked}
        draft={draft}
        refusals={refusalsOf(read.error)}
        onChange={(next) => {
          read.reset()
          setDraft(next)
        }}
      />
      <Refusals
        title="The file was not read."
        refusals={refusalsOf(read.error)}
        kept="Nothing was written. Change what is named above and read it again."
      />
      {missing.length > 0 ? <Notice tone="mind">Still to be said: {missing.join(', ')}.</Notice> : null}
      <div className="row c">
        <Button kind="do" isDisabled={missing.length > 0 || read.isPending} onPress={send}>
          {read.isPending ? 'Reading' : 'Read the file'}
        </Button>
      </div>
    </>
  )
}
