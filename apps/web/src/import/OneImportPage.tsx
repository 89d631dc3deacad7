import { useState } from 'react'
import { useParams } from 'react-router'
import { refusalsOf } from '../api/index.ts'
import { Button, ErrorNote, LinkButton, Loading, Notice, Refusals } from '../look/index.ts'
import { begunOf } from './begun.ts'
import { DonePart } from './DonePart.tsx'
import { useCancelImport, useImport } from './hooks.ts'
import { MappingPart } from './MappingPart.tsx'
import { PreviewPart } from './PreviewPart.tsx'
import { ReadingPart } from './ReadingPart.tsx'
import type { ImportStatus } from './types.ts'
import './import.css'

/** One list on its way in: its mapping, what it would change, and what became of it. */
export default function OneImportPage() {
  const { id = '' } = useParams()
  const status = useImport(id)
  if (status.error)
    return (
      <div className="page">
        <ErrorNote
          title="This import cannot be shown."
          error={status.error}
          action={
            <>
              <Button onPress={() => status.refetch()}>Try again</Button>
              <LinkButton to="/import">All imports</LinkButton>
            </>
          }
        />
      </div>
    )
  if (!status.data) return <Loading>Fetching the import.</Loading>
  return (
    <div className="page import-page">
      <div className="row wrap">
        <h1>{status.data.fileName}</h1>
        <span className="sp s q">Nothing is ever deleted by an import.</span>
      </div>
      <Step status={status.data} key={status.data.importId} />
    </div>
  )
}

function Step({ status }: { status: ImportStatus }) {
  const [again, setAgain] = useState(false)
  const begun = begunOf(status.importId)
  const mapped = () => setAgain(false)
  if (status.state === 'reading' || status.state === 'writing') return <ReadingPart status={status} />
  if (status.state === 'done') return <DonePart status={status} />
  if (status.state === 'cancelled') return <Cancelled />
  if (status.state === 'mapping' || status.state === 'failed' || again) {
    return begun ? (
      <>
        {status.state === 'failed' ? (
          <Refusals
            title="The file could not be read."
            refusals={status.refusal ? [status.refusal] : []}
            kept="Nothing was written. Mend the mapping and read it again, or cancel."
          />
        ) : null}
        <MappingPart begun={begun} status={status} onRead={mapped} />
      </>
    ) : (
      <WithoutTable status={status} />
    )
  }
  return <PreviewPart status={status} onMapAgain={begun ? () => setAgain(true) : undefined} />
}

function Cancelled() {
  return (
    <>
      <Notice tone="mind" title="This import was cancelled.">
        Nothing of it was written, and its rows were let go.
      </Notice>
      <p>
        <LinkButton to="/import" kind="do">
          Bring in a list
        </LinkButton>
      </p>
    </>
  )
}

/** The window in which the file was looked at is closed: its samples are gone, so it is chosen again. */
function WithoutTable({ status }: { status: ImportStatus }) {
  const cancel = useCancelImport(status.importId)
  return (
    <>
      {status.refusal ? (
        <Refusals
          title="The file could not be read."
          refusals={[status.refusal]}
          kept="Nothing was written."
        />
      ) : null}
      <Notice tone="mind" title="This file waits for its mapping.">
        It was looked at in another window. Choose it again to map it; this one can be let go.
      </Notice>
      <Refusals title="It was not cancelled." refusals={refusalsOf(cancel.error)} />
      <div className="row c wrap">
        <LinkButton to="/import" kind="do">
          Choose the file again
        </LinkButton>
        <Button isDisabled={cancel.isPending} onPress={() => cancel.mutate()}>
          Cancel this import
        </Button>
      </div>
    </>
  )
}
