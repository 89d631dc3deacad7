import type { LookingStep } from '@underbough/model'
import { useState } from 'react'
import { Button, Field } from '../look/index.ts'
import { addFinding, answer, stepName } from './draft.ts'
import { FindingPart } from './FindingPart.tsx'
import { kindsAt, notSeenReasons } from './kinds.ts'
import { Chip } from './pieces.tsx'
import type { VisitHandle } from './useVisit.ts'

/** Why a step was not seen: a tap on what usually stands in the way, or the person's own words. */
export function WhyNotSeen({ step, visit }: { step: LookingStep; visit: VisitHandle }) {
  const why = visit.draft.answers[step]?.notSeenBecause ?? ''
  const say = (words: string) => visit.change((d) => answer(d, step, 'not-seen', words || null))
  return (
    <div className="visit-why">
      <div className="chips">
        {notSeenReasons[step].map((reason) => (
          <Chip key={reason} chosen={why === reason} onPress={() => say(reason)}>
            {reason}
          </Chip>
        ))}
      </div>
      <Field
        label="Why, and which part"
        value={why}
        onChange={say}
        refusal={why ? null : 'A visit is not closed before a reason stands here.'}
      />
    </div>
  )
}

/** What was found at a step: each finding, one of them open, and the short list of what is usually found there. */
export function StepFindings({ step, visit }: { step: LookingStep; visit: VisitHandle }) {
  const { draft } = visit
  const findings = draft.findings.filter((f) => f.step === step)
  const [wanted, setAdding] = useState(false)
  const adding = wanted || findings.length === 0
  const setOpen = (id: string | null) => visit.change((d) => ({ ...d, open: id }))
  return (
    <>
      {findings.map((finding) => (
        <FindingPart
          key={finding.id}
          finding={finding}
          visit={visit}
          isOpen={draft.open === finding.id}
          onOpen={() => setOpen(draft.open === finding.id ? null : finding.id)}
        />
      ))}
      {adding ? (
        <KindList
          step={step}
          onKind={(kind) => {
            const id = crypto.randomUUID()
            visit.change((d) => ({ ...addFinding(d, step, kind, id), open: id }))
            setAdding(false)
          }}
        />
      ) : (
        <Button kind="quiet" onPress={() => setAdding(true)}>
          Another finding: {stepName(step)}
        </Button>
      )}
    </>
  )
}

function KindList({ step, onKind }: { step: LookingStep; onKind(kind: string): void }) {
  const [own, setOwn] = useState('')
  return (
    <section className="visit-kinds" aria-label="What was found">
      <div className="chips">
        {kindsAt(step).map(({ kind }) => (
          <Chip key={kind} onPress={() => onKind(kind)}>
            {kind}
          </Chip>
        ))}
      </div>
      <div className="visit-own">
        <Field label="Something else" value={own} onChange={setOwn} />
        <Button isDisabled={own.trim() === ''} onPress={() => onKind(own.trim().slice(0, 80))}>
          Add it
        </Button>
      </div>
    </section>
  )
}
