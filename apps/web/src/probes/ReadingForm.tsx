import { useEffect, useRef, useState } from 'react'
import { Button, Dialog, KeepingState, Notice, Refusals, refusalAt, Select, sayTime } from '../look/index.ts'
import { CorePart } from './CorePart.tsx'
import { type CoreChoice, FracturePart } from './FracturePart.tsx'
import { LaboratoryPart } from './LaboratoryPart.tsx'
import { OpeningPart } from './OpeningPart.tsx'
import { CutPart, OutlinePart } from './OutlinePart.tsx'
import type { PartProps } from './part.ts'
import { HowPart, WherePart, WoundCaution } from './SharedPart.tsx'
import { SoundingPart } from './SoundingPart.tsx'
import type { KeptReading } from './store.ts'
import { TracePart } from './TracePart.tsx'
import { useReading } from './useReading.ts'
import { kindNames, wounds } from './words.ts'

export interface VisitChoice {
  id: string
  label: string
}
export interface ReadingFormProps {
  initial: KeptReading
  treeName: string
  /** Visits it may belong to; null where the visit is given. */
  visits: readonly VisitChoice[] | null
  cores: readonly CoreChoice[]
  holesAt(reading: KeptReading): number
  onHanded(readingId: string): void
  onLeave(): void
}

/** A reading to fill in. What is typed stays on the device until it is handed in or put away. */
export function ReadingForm(props: ReadingFormProps) {
  const { initial, treeName, visits, cores, onHanded, onLeave } = props
  const handle = useReading(initial, onHanded)
  const { kept, values, refusals, asked } = handle
  const [puttingAway, setPuttingAway] = useState(false)
  const form = useRef<HTMLElement>(null)
  useEffect(() => {
    if (asked === 0) return
    const first = form.current?.querySelector<HTMLElement>(
      'input[aria-invalid="true"], textarea[aria-invalid="true"], [data-invalid] button, [data-refused]',
    )
    first?.focus({ preventScroll: true })
    first?.scrollIntoView({ block: 'center' })
  }, [asked])
  return (
    <section ref={form} className="reading-form" aria-label={kindNames[values.kind]}>
      <header className="reading-head">
        <h1 tabIndex={-1}>
          {kindNames[values.kind]} <span className="q">{treeName}</span>
        </h1>
        <span role="status" className="s">
          {kept.keptAt > 0 ? (
            <KeepingState keeping={handle.unkept ? 'not-kept' : 'on-this-phone'}>
              {handle.unkept ? 'Not kept' : `On this phone, ${sayTime(kept.keptAt)}`}
            </KeepingState>
          ) : null}
        </span>
      </header>
      {handle.unkept ? <Notice tone="refused">{handle.unkept.message}</Notice> : null}
      {kept.refusals.length > 0 && asked === 0 ? (
        <Refusals
          title="The office did not take this reading."
          refusals={kept.refusals}
          kept="It is a draft again; nothing of it is lost."
        />
      ) : null}
      {wounds(values.kind) ? <WoundCaution holes={props.holesAt(kept)} /> : null}
      {visits ? (
        <Select
          label="Part of the visit"
          value={kept.visitId}
          options={visits.map(({ id, label }) => ({ value: id, label }))}
          onChange={handle.setVisit}
          refusal={refusalAt(refusals, 'visitId')}
        />
      ) : null}
      <WherePart handle={handle} />
      <OwnPart handle={handle} cores={cores} />
      <HowPart handle={handle} />
      {refusals.length > 0 && asked > 0 ? (
        <Notice
          tone="refused"
          title={
            refusals.length === 1
              ? 'One thing stands in the way.'
              : `${refusals.length} things stand in the way.`
          }
        >
          <ul>
            {refusals
              .filter(({ path }) => path === '' || path === 'id')
              .map(({ message }) => (
                <li key={message}>{message}</li>
              ))}
          </ul>
          Each is named at its field. What you entered stays on this device.
        </Notice>
      ) : null}
      {kept.keptAt > 0 ? (
        <Button kind="quiet" onPress={() => setPuttingAway(true)}>
          Put away this draft
        </Button>
      ) : null}
      <div className="reading-foot">
        <Button
          kind="do"
          className="reading-do"
          isDisabled={handle.sending}
          onPress={() => void handle.hand()}
        >
          Keep this reading
        </Button>
        <Button className="reading-later" onPress={onLeave}>
          Later
        </Button>
      </div>
      <Dialog
        title="Put this draft away?"
        isOpen={puttingAway}
        onClose={() => setPuttingAway(false)}
        actions={
          <>
            <Button kind="do" onPress={() => void handle.putAway().then(onLeave)}>
              Put it away
            </Button>
            <Button onPress={() => setPuttingAway(false)}>Keep it</Button>
          </>
        }
      >
        <p>All that stands on this form, and its photos, are taken off this device. They are nowhere else.</p>
      </Dialog>
    </section>
  )
}

function OwnPart({ handle, cores }: PartProps & { cores: readonly CoreChoice[] }) {
  switch (handle.values.kind) {
    case 'core':
      return <CorePart handle={handle} />
    case 'drill-trace':
      return <TracePart handle={handle} />
    case 'sounding':
      return <SoundingPart handle={handle} />
    case 'fracture-test':
      return <FracturePart handle={handle} cores={cores} />
    case 'laboratory':
      return <LaboratoryPart handle={handle} />
    case 'opening':
      return <OpeningPart handle={handle} />
    case 'cut':
      return <CutPart handle={handle} />
    case 'outline':
      return <OutlinePart handle={handle} />
  }
}
