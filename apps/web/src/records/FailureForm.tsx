import { type CivilDate, type Refusal, type ScenarioPart, scenarioParts } from '@underbough/model'
import { useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import { Button, Dialog, Field, NumberField, Refusals, refusalAt, Select, Words } from '../look/index.ts'
import { type FailureDraft, failureOf, partWords } from './failure.ts'
import { useKeepFailure } from './hooks.ts'
import { TreePick } from './TreePick.tsx'

const parts = scenarioParts.map((value) => ({ value, label: partWords[value] }))
const gustHint = 'As the nearest station says, if it is known.'

/** Writes down what broke, or nearly did. It stands as it was entered. */
export function FailureForm({ today, onClose }: { today: CivilDate; onClose(): void }) {
  const keep = useKeepFailure()
  const [draft, setDraft] = useState<FailureDraft>(() => fresh(today))
  const [own, setOwn] = useState<readonly Refusal[]>([])
  const set = (change: Partial<FailureDraft>) => setDraft((now) => ({ ...now, ...change }))
  const given = refusalsOf(keep.error)
  const at = (path: string) => refusalAt([...own, ...given], path)
  const save = () => {
    const read = failureOf(draft, today)
    setOwn('refusals' in read ? read.refusals : [])
    if ('input' in read) keep.mutate(read.input, { onSuccess: onClose })
  }
  return (
    <Dialog
      title="A failure or near miss"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button kind="do" isDisabled={keep.isPending} onPress={save}>
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <Refusals title="It was not kept." refusals={given} kept="What you wrote is still here." />
      <Words
        label="What it was"
        value={draft.nearMiss ? 'near' : 'broke'}
        options={[
          { value: 'broke', label: 'Something broke' },
          { value: 'near', label: 'A near miss' },
        ]}
        onChange={(value) => set({ nearMiss: value === 'near' })}
      />
      <Words<FailureDraft['where']>
        label="Where it was"
        value={draft.where}
        options={[
          { value: 'tree', label: 'At a tree on record' },
          { value: 'place', label: 'At a place without one' },
        ]}
        onChange={(where) => set({ where })}
      />
      {draft.where === 'tree' ? (
        <TreePick refusal={at('treeId')} onPick={(treeId) => set({ treeId })} />
      ) : (
        <div className="pair">
          <NumberField
            label="Longitude"
            unit="degrees"
            value={draft.place.lon}
            refusal={at('place')}
            onChange={(lon) => set({ place: { ...draft.place, lon } })}
          />
          <NumberField
            label="Latitude"
            unit="degrees"
            value={draft.place.lat}
            onChange={(lat) => set({ place: { ...draft.place, lat } })}
          />
        </div>
      )}
      <div className="pair">
        <Field label="Day" type="date" value={draft.on} refusal={at('on')} onChange={(on) => set({ on })} />
        <Select<ScenarioPart>
          label="What broke"
          value={draft.part}
          options={parts}
          refusal={at('part')}
          onChange={(part) => set({ part })}
        />
      </div>
      <NumberField
        label="Strongest gust"
        unit="m/s"
        value={draft.gustMps}
        hint={gustHint}
        refusal={at('gustMps')}
        onChange={(gustMps) => set({ gustMps })}
      />
      <Field
        label={draft.nearMiss ? 'What it nearly hit' : 'What it hit'}
        value={draft.hit}
        hint="Empty for nothing."
        refusal={at('hit')}
        onChange={(hit) => set({ hit })}
      />
      <Field
        label="Note"
        value={draft.note}
        multiline
        refusal={at('note')}
        onChange={(note) => set({ note })}
      />
    </Dialog>
  )
}

const fresh = (today: CivilDate): FailureDraft => ({
  id: crypto.randomUUID(),
  treeId: null,
  place: { lon: null, lat: null },
  where: 'tree',
  on: today,
  part: null,
  gustMps: null,
  hit: '',
  nearMiss: false,
  note: '',
})
