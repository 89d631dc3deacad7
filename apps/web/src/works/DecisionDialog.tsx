import type { CivilDate, DecisionAnswer, Work } from '@underbough/model'
import { useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import { Answers, Button, Dialog, Field, Refusals, refusalAt } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { useDecide } from './hooks.ts'
import { kindWords } from './order.ts'

const answers: readonly { value: DecisionAnswer; label: string; hint: string }[] = [
  { value: 'accepted', label: 'Accept', hint: 'The work is approved.' },
  { value: 'deferred', label: 'Defer', hint: 'It stays proposed and keeps its date.' },
  { value: 'refused', label: 'Refuse', hint: 'Nothing is treated: the tree is dated as it stands.' },
]

/** The owner's answer to a recommendation, with the reason where it is not taken up. */
export function DecisionDialog(props: { work: Work; tag: string; today: CivilDate; onClose(): void }) {
  const { work, tag, today, onClose } = props
  const me = usePerson()
  const decide = useDecide(work.id)
  const [answer, setAnswer] = useState<DecisionAnswer | null>(work.decision?.answer ?? null)
  const [reason, setReason] = useState(work.decision?.reason ?? '')
  const [by, setBy] = useState(work.decision?.by ?? me.name)
  const [on, setOn] = useState(today)
  const refusals = refusalsOf(decide.error)
  const needsReason = answer !== null && answer !== 'accepted' && !reason.trim()
  return (
    <Dialog
      title={`Owner’s answer: ${tag}`}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={answer === null || needsReason || !on || decide.isPending}
            onPress={() =>
              answer &&
              decide.mutate(
                { answer, on, reason: reason.trim(), by: by.trim() || undefined },
                { onSuccess: onClose },
              )
            }
          >
            Keep the answer
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <p>
        <b>{kindWords[work.kind]}.</b> {work.description}
      </p>
      <Refusals title="The answer was not kept." refusals={refusals} kept="The work stands as it was." />
      <Answers<DecisionAnswer> label="Answer" value={answer} options={answers} onChange={setAnswer} />
      <Field
        label="Reason"
        value={reason}
        multiline
        hint={
          answer && answer !== 'accepted'
            ? 'Asked for where a recommendation is not taken up.'
            : 'May stay empty.'
        }
        refusal={refusalAt(refusals, 'reason')}
        onChange={setReason}
      />
      <Field label="Said by" value={by} refusal={refusalAt(refusals, 'by')} onChange={setBy} />
      <Field label="On" type="date" value={on} refusal={refusalAt(refusals, 'on')} onChange={setOn} />
    </Dialog>
  )
}
