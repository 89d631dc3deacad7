import type { CivilDate, Work } from '@underbough/model'
import { useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import { Button, Dialog, Field, Refusals, refusalAt } from '../look/index.ts'
import { useSetState } from './hooks.ts'
import { kindWords } from './order.ts'

/** Says that a work is done, on which day and by whom. */
export function DoneDialog(props: { work: Work; tag: string; today: CivilDate; onClose(): void }) {
  const { work, tag, today, onClose } = props
  const set = useSetState(work.id)
  const [doneOn, setDoneOn] = useState(today)
  const [doneBy, setDoneBy] = useState('')
  const refusals = refusalsOf(set.error)
  const future = doneOn > today ? 'That day has not come yet.' : null
  return (
    <Dialog
      title={`Done: ${tag}`}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={!doneOn || future !== null || set.isPending}
            onPress={() =>
              set.mutate({ state: 'done', doneOn, doneBy: doneBy.trim() || null }, { onSuccess: onClose })
            }
          >
            Mark done
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <p>
        <b>{kindWords[work.kind]}.</b> {work.description}
      </p>
      <Refusals title="It was not marked done." refusals={refusals} kept="The work stands as it was." />
      <Field
        label="Done on"
        type="date"
        value={doneOn}
        refusal={future ?? refusalAt(refusals, 'doneOn')}
        onChange={setDoneOn}
      />
      <Field
        label="Done by"
        value={doneBy}
        hint="The crew or contractor; may stay empty."
        refusal={refusalAt(refusals, 'doneBy')}
        onChange={setDoneBy}
      />
      <p className="s q">The tree is dated anew: what remains is looked at when its rating says.</p>
    </Dialog>
  )
}
