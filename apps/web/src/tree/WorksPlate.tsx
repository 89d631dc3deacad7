import { type DecisionAnswer, daysBetween } from '@underbough/model'
import { workNames } from '@underbough/rating'
import { useState } from 'react'
import { refusalsOf, type TreeWhole, type Work } from '../api/index.ts'
import {
  Button,
  capital,
  Dialog,
  Empty,
  Field,
  Plate,
  Refusals,
  refusalAt,
  sayDate,
  sayLength,
  Words,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { workStateNames } from './facts.ts'
import { useDecide, useSetWork } from './hooks.ts'
import { ProposeDialog } from './ProposeDialog.tsx'

/** Works, with what the owner said to each. */
export function WorksPlate({ no, whole, today }: { no: number; whole: TreeWhole; today: string }) {
  const [deciding, setDeciding] = useState<Work | null>(null)
  const [doing, setDoing] = useState<Work | null>(null)
  const [proposing, setProposing] = useState(false)
  const { role } = usePerson()
  const { works } = whole
  return (
    <Plate no={no} title="Works" className="wide">
      {works.length === 0 ? (
        <Empty title="No works.">
          What is proposed on a visit, or here, stands in this place with the owner’s answer.
        </Empty>
      ) : (
        <ul className="tree-list">
          {works.map((work) => (
            <li key={work.id} className="tree-work">
              <WorkWords work={work} today={today} />
              <div className="row c wrap">
                {work.state !== 'done' && role !== 'inspector' ? (
                  <Button onPress={() => setDeciding(work)}>
                    {work.decision ? 'Change the answer' : 'Owner’s answer'}
                  </Button>
                ) : null}
                {work.state === 'done' || work.state === 'refused' || role === 'client' ? null : (
                  <Button onPress={() => setDoing(work)}>Mark done</Button>
                )}
              </div>
            </li>
          ))}
        </ul>
      )}
      {role === 'officer' || role === 'inspector' ? (
        <div className="tree-more">
          <Button kind="quiet" onPress={() => setProposing(true)}>
            Propose a work
          </Button>
        </div>
      ) : null}
      {deciding ? <DecisionForm work={deciding} today={today} onClose={() => setDeciding(null)} /> : null}
      {doing ? <DoneForm work={doing} today={today} onClose={() => setDoing(null)} /> : null}
      {proposing ? (
        <ProposeDialog
          treeId={whole.tree.id}
          onClose={() => setProposing(false)}
          onProposed={() => setProposing(false)}
        />
      ) : null}
    </Plate>
  )
}

function WorkWords({ work, today }: { work: Work; today: string }) {
  const open = work.state === 'proposed' || work.state === 'approved'
  const late = open && work.dueOn ? daysBetween(work.dueOn, today) : 0
  return (
    <div>
      <p className="prose">
        <b>{work.description}</b>
      </p>
      <p className="s q">
        {capital(workNames[work.kind])}: {workStateNames[work.state]}
        {work.state === 'done' && work.doneOn
          ? ` ${sayDate(work.doneOn)}${work.doneBy ? ` by ${work.doneBy}` : ''}`
          : work.dueOn
            ? `, due ${sayDate(work.dueOn)}${late > 0 ? `: ${sayLength(late)} late` : ''}`
            : ', no date of its own'}
        {work.residualRisk ? `. Risk after it: ${work.residualRisk}` : ''}
        {work.cost === null ? '' : `. Cost about ${work.cost.toLocaleString('en-GB')}`}.
      </p>
      {work.decision ? (
        <p className="s">
          {work.decision.by}{' '}
          {work.decision.answer === 'deferred' ? 'put it off' : `${work.decision.answer} it`} on{' '}
          {sayDate(work.decision.on)}. {work.decision.reason}
        </p>
      ) : null}
    </div>
  )
}

function DecisionForm({ work, today, onClose }: { work: Work; today: string; onClose(): void }) {
  const [answer, setAnswer] = useState<DecisionAnswer>(work.decision?.answer ?? 'accepted')
  const [on, setOn] = useState(today)
  const [by, setBy] = useState('')
  const [reason, setReason] = useState('')
  const me = usePerson()
  const decide = useDecide()
  const refusals = refusalsOf(decide.error)
  const needsReason = answer !== 'accepted' && reason.trim() === ''
  return (
    <Dialog
      title="The owner’s answer"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={decide.isPending || needsReason || on === ''}
            onPress={() =>
              decide.mutate(
                { id: work.id, answer, on, reason: reason.trim(), ...(by.trim() ? { by: by.trim() } : {}) },
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
      <p className="prose">{work.description}</p>
      <Words
        label="The answer"
        value={answer}
        options={[
          { value: 'accepted', label: 'Accept' },
          { value: 'refused', label: 'Refuse' },
          { value: 'deferred', label: 'Defer' },
        ]}
        onChange={(word) => setAnswer(word)}
      />
      <Field
        label={answer === 'accepted' ? 'Reason, if there is one' : 'Reason'}
        multiline
        value={reason}
        onChange={setReason}
        refusal={refusalAt(refusals, 'reason')}
        hint={
          answer === 'accepted'
            ? undefined
            : 'The tree stays untreated: its date goes on running from the work that was proposed.'
        }
      />
      <Field label="On" type="date" value={on} onChange={setOn} refusal={refusalAt(refusals, 'on')} />
      {me.role === 'client' ? null : (
        <Field label="Who decided" value={by} onChange={setBy} hint={`Empty: ${me.name}`} />
      )}
      <Refusals title="The answer was not kept." refusals={refusals} kept="The work stands as it was." />
    </Dialog>
  )
}

function DoneForm({ work, today, onClose }: { work: Work; today: string; onClose(): void }) {
  const [on, setOn] = useState(today)
  const [by, setBy] = useState('')
  const setWork = useSetWork()
  const refusals = refusalsOf(setWork.error)
  return (
    <Dialog
      title="Mark done"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={setWork.isPending || on === ''}
            onPress={() =>
              setWork.mutate(
                { id: work.id, state: 'done', doneOn: on, doneBy: by.trim() || null },
                { onSuccess: onClose },
              )
            }
          >
            It is done
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <p className="prose">{work.description}</p>
      <Field
        label="Done on"
        type="date"
        value={on}
        onChange={setOn}
        refusal={refusalAt(refusals, 'doneOn')}
      />
      <Field label="Done by" value={by} onChange={setBy} refusal={refusalAt(refusals, 'doneBy')} />
      <Refusals title="The work was not changed." refusals={refusals} />
    </Dialog>
  )
}
