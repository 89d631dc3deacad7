import { type LookingStep, lookingStepNames } from '@underbough/model'
import { StepGlyph } from '@underbough/pictures'
import { useState } from 'react'
import { Button, Field, Notice } from '../look/index.ts'
import { PhotoNews, PhotoPress } from '../photos/index.ts'
import { ReadingOver } from '../probes/ReadingOver.tsx'
import { addFinding, answer, nextStep, stepName, stepTitle } from './draft.ts'
import { FindingPart } from './FindingPart.tsx'
import { kindsAt, notSeenReasons, stepHints } from './kinds.ts'
import { oneTap } from './oneTap.ts'
import { AnswerPress, Chip } from './pieces.tsx'
import type { ScreenProps } from './screen.ts'
import { StepPhotos, useVisitTaking } from './VisitPhotos.tsx'

/** Steps at which somebody may look into the wood. */
const into: ReadonlySet<LookingStep> = new Set<LookingStep>(['base', 'stem', 'main-branches'])

/** One step: seen and clear, seen with findings, or not seen and why. */
export function StepScreen({ step, visit, go }: ScreenProps & { step: LookingStep }) {
  const { draft, refusals } = visit
  const { tree } = visit.kept.ground.whole
  const given = draft.answers[step]
  const findings = draft.findings.filter((f) => f.step === step)
  const [adding, setAdding] = useState(findings.length === 0)
  const [open, setOpen] = useState<string | null>(findings.length === 1 ? findings[0]!.id : null)
  const taking = useVisitTaking(visit, open, lookingStepNames[step])
  const openFinding = findings.find((f) => f.id === open)
  const photoLabel = openFinding ? `Photo of ${openFinding.kind}` : 'Photo for this visit'
  const next = nextStep(step)
  const goOn = () => go(next ?? 'rating')
  const minutes = Math.round((draft.seconds[step] ?? 0) / 60)
  const here = refusals.filter((r) => r.path === `visit.steps.${step}`)
  const lost = findings.length
  return (
    <>
      <div className="row visit-title">
        <h1 tabIndex={-1}>{stepTitle(step)}</h1>
        <span className="sp q">{minutes > 0 ? `${minutes} min` : ''}</span>
      </div>
      <p className="q visit-hint">{stepHints[step]}</p>
      {here.map((r) => (
        <Notice key={r.message} tone="refused">
          {r.message}
        </Notice>
      ))}
      <div className="visit-answers">
        <AnswerPress
          chosen={given?.result === 'nothing-found'}
          picture={<StepGlyph state="nothing-found" hidden />}
          onPress={() => {
            visit.change((d) => answer(d, step, 'nothing-found'))
            if (oneTap() && lost === 0) goOn()
          }}
        >
          Seen, nothing found
        </AnswerPress>
        <AnswerPress
          chosen={given?.result === 'findings'}
          picture={<StepGlyph state="findings" hidden />}
          onPress={() => {
            visit.change((d) => answer(d, step, 'findings'))
            setAdding(findings.length === 0)
          }}
        >
          Seen, with findings
        </AnswerPress>
        <AnswerPress
          chosen={given?.result === 'not-seen'}
          picture={<StepGlyph state="not-seen" hidden />}
          onPress={() => visit.change((d) => answer(d, step, 'not-seen', given?.notSeenBecause ?? null))}
        >
          Not seen, because…
        </AnswerPress>
      </div>
      {given?.result === 'not-seen' ? <WhyNotSeen step={step} visit={visit} go={go} /> : null}
      {given?.result === 'findings' ? (
        <>
          {findings.map((finding) => (
            <FindingPart
              key={finding.id}
              finding={finding}
              visit={visit}
              isOpen={open === finding.id}
              onOpen={() => setOpen(open === finding.id ? null : finding.id)}
            />
          ))}
          {adding ? (
            <KindList
              step={step}
              onKind={(kind) => {
                const id = crypto.randomUUID()
                visit.change((d) => addFinding(d, step, kind, id))
                setOpen(id)
                setAdding(false)
              }}
            />
          ) : (
            <Button kind="quiet" onPress={() => setAdding(true)}>
              Another finding: {stepName(step)}
            </Button>
          )}
        </>
      ) : null}
      {into.has(step) ? (
        <div className="visit-danger">
          <ReadingOver
            treeId={draft.treeId}
            treeName={`${tree.tag} ${tree.commonName ?? tree.species}`}
            visitId={draft.id}
            onOpen={() => visit.change((d) => d)}
          />
        </div>
      ) : null}
      <div className="visit-danger">
        <Button kind="quiet" onPress={() => go('urgent')}>
          Somebody is in danger: urgent note
        </Button>
      </div>
      <StepPhotos visit={visit} step={lookingStepNames[step]} />
      <PhotoNews taking={taking} />
      <div className="visit-foot">
        <PhotoPress taking={taking} from="camera" label={photoLabel} className="visit-photo">
          Photo
        </PhotoPress>
        <Button kind="do" className="visit-next" onPress={goOn}>
          {next ? `Next: ${stepName(next)}` : 'Next: the rating'}
        </Button>
      </div>
    </>
  )
}

function WhyNotSeen({ step, visit }: ScreenProps & { step: LookingStep }) {
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
