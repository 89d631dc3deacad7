import { useId, useRef, useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { refusalsOf } from '../api/index.ts'
import { Button, count, Empty, ErrorNote, Loading, Plate, Refusals, sayDate, Words } from '../look/index.ts'
import { mayChange, usePerson } from '../shell/index.ts'
import { useBegin, useImports } from './hooks.ts'
import type { ImportHead, ImportKind } from './types.ts'
import { kindNames, stateNames } from './words.ts'
import './import.css'

const kinds = (Object.keys(kindNames) as ImportKind[]).map((value) => ({
  value,
  label: value === 'ground' ? 'Ground' : value === 'zones' ? 'Zones' : 'Trees',
}))
const endings: Record<ImportKind, string> = {
  trees: '.csv,.txt,.tsv,.json,.geojson',
  zones: '.json,.geojson',
  ground: '.json,.geojson',
}

/** Choose a file to bring in, and the lists that were brought in before. */
export default function ImportPage() {
  const me = usePerson()
  if (!mayChange(me.role))
    return (
      <div className="page">
        <h1>Bring in a list</h1>
        <Empty title="Lists are brought in by the office.">Ask an officer of {me.organisation.name}.</Empty>
      </div>
    )
  return (
    <div className="page import-page">
      <h1>Bring in a list</h1>
      <p className="q prose">
        Nothing is ever deleted by an import. A list is read and shown first; nothing is written until you say
        so.
      </p>
      <ChooseFile />
      <Earlier />
    </div>
  )
}

function ChooseFile() {
  const go = useNavigate()
  const begin = useBegin()
  const [kind, setKind] = useState<ImportKind>('trees')
  const [file, setFile] = useState<File | null>(null)
  const [over, setOver] = useState(false)
  const refusals = refusalsOf(begin.error)
  const look = () =>
    file && begin.mutate({ file, kind }, { onSuccess: ({ importId }) => go(`/import/${importId}`) })
  return (
    <section
      className={over ? 'drop drop-over' : 'drop'}
      aria-label="The file to bring in"
      onDragOver={(event) => {
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault()
        setOver(false)
        const [dropped] = event.dataTransfer.files
        if (dropped) setFile(dropped)
      }}
    >
      <div className="drop-kind">
        <Words<ImportKind> label="Kind of list" value={kind} options={kinds} onChange={setKind} />
        <p className="s q">{kindNames[kind].holds} At most 64 MiB.</p>
      </div>
      <FileField file={file} accept={endings[kind]} onFile={setFile} />
      <Refusals
        title="The file was not taken."
        refusals={refusals}
        kept="Nothing was written. Choose another file, or mend this one and look again."
      />
      <div className="row c wrap">
        <Button kind="do" isDisabled={!file || begin.isPending} onPress={look}>
          {begin.isPending ? 'Looking' : 'Look at the file'}
        </Button>
        <span className="s q">Or drop a file anywhere in this frame.</span>
      </div>
    </section>
  )
}

function FileField({
  file,
  accept,
  onFile,
}: {
  file: File | null
  accept: string
  onFile(file: File | null): void
}) {
  const id = useId()
  const input = useRef<HTMLInputElement>(null)
  return (
    <div className="file-field">
      <label htmlFor={id} className="field-label">
        File
      </label>
      <input
        ref={input}
        id={id}
        type="file"
        accept={accept}
        onChange={(event) => onFile(event.target.files?.[0] ?? null)}
      />
      {file && input.current?.files?.[0] !== file ? (
        <p className="s">
          Dropped here: <b>{file.name}</b>
        </p>
      ) : null}
      {file ? <p className="s q">{saySize(file.size)}</p> : null}
    </div>
  )
}

const saySize = (bytes: number) =>
  bytes < 1024 * 1024
    ? `${Math.max(1, Math.round(bytes / 1024)).toLocaleString('en-GB')} KiB`
    : `${(bytes / 1024 / 1024).toFixed(1)} MiB`

function Earlier() {
  const imports = useImports()
  return (
    <Plate title="Brought in before">
      {imports.error ? (
        <ErrorNote
          title="The earlier lists cannot be fetched."
          error={imports.error}
          action={<Button onPress={() => imports.refetch()}>Try again</Button>}
        />
      ) : !imports.data ? (
        <Loading>Fetching the earlier lists.</Loading>
      ) : imports.data.length === 0 ? (
        <Empty title="No list yet.">
          Every list that is brought in stays here, with what was refused of it.
        </Empty>
      ) : (
        <EarlierTable imports={imports.data} />
      )}
    </Plate>
  )
}

function EarlierTable({ imports }: { imports: readonly ImportHead[] }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is moved sideways with the keyboard
    <div className="table-roll" tabIndex={0} role="region" aria-label="Earlier lists">
      <table>
        <thead>
          <tr>
            <th>File</th>
            <th>Day</th>
            <th>State</th>
            <th className="n">Rows</th>
            <th className="n">New</th>
            <th className="n">Changed</th>
            <th className="n">Refused</th>
          </tr>
        </thead>
        <tbody>
          {imports.map((batch) => (
            <tr key={batch.importId}>
              <td>
                <Link to={`/import/${batch.importId}`}>{batch.fileName}</Link>
                <br />
                <span className="s q">{kindNames[batch.kind].many}</span>
              </td>
              <td>{sayDate(batch.madeAt.slice(0, 10))}</td>
              <td>{stateNames[batch.state]}</td>
              <td className="n">{figure(batch.counts.rows)}</td>
              <td className="n">{figure(batch.counts.new)}</td>
              <td className="n">{figure(batch.counts.changed)}</td>
              <td className="n">{figure(batch.counts.refused)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="s q">{count(imports.length, 'list')}, the latest first.</p>
    </div>
  )
}
const figure = (n: number | undefined) => (n ?? 0).toLocaleString('en-GB')
