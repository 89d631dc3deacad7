import { type LookingStep, lookingSteps } from '@underbough/model'
import { StepGlyph } from '@underbough/pictures'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { Button, Field, Notice, refusalAt } from '../look/index.ts'
import { PhotoNews, PhotoPress } from '../photos/index.ts'
import { answer, answerRest, firstOpen, limitsOf, stepTitle } from './draft.ts'
import { Chip } from './pieces.tsx'
import { StepFindings, WhyNotSeen } from './StepParts.tsx'
import { type ScreenProps, stepAt } from './screen.ts'
import { sayPlaceState } from './usePlace.ts'
import type { VisitHandle } from './useVisit.ts'
import { StepPhotos, useVisitTaking } from './VisitPhotos.tsx'

/** From where a limited look is made. Common practice, no source. */
const froms = ['the path', 'the road', 'one side only', 'a vehicle, driving past'] as const

/** A limited look on one screen: from where, the seven steps in one go, and only what stands out opened in place. */
export function ShortScreen({ visit, place, go }: ScreenProps) {
  const { draft, refusals } = visit
  const openFinding = draft.findings.find((f) => f.id === draft.open)
  const taking = useVisitTaking(visit, openFinding?.id ?? null, 'Limited look')
  const left = lookingSteps.filter((step) => !draft.answers[step]).length
  const setFrom = (seenFrom: string) => visit.change((d) => ({ ...d, seenFrom }))
  const setAssignment = (part: Partial<typeof draft.assignment>) =>
    visit.change((d) => ({ ...d, assignment: { ...d.assignment, ...part } }))
  return (
    <>
      <div className="row visit-title">
        <h1 tabIndex={-1}>A limited look</h1>
        <span className="sp q">{sayPlaceState(place)}</span>
      </div>
      <section aria-label="Seen from" className="visit-why">
        <Field
          label="Seen from"
          value={draft.seenFrom ?? ''}
          onChange={setFrom}
          hint="Which path, which side"
        />
        <div className="chips">
          {froms.map((from) => (
            <Chip key={from} chosen={draft.seenFrom === from} onPress={() => setFrom(from)}>
              {from}
            </Chip>
          ))}
        </div>
      </section>
      <Button
        className="short-all"
        isDisabled={left === 0}
        onPress={() => visit.change((d) => ({ ...answerRest(d), open: null }))}
      >
        {left === lookingSteps.length
          ? 'All seen, nothing found'
          : left === 0
            ? 'All seven are answered'
            : `The other ${left} seen, nothing found`}
      </Button>
      <ol className="short-steps">
        {lookingSteps.map((step) => (
          <Row key={step} step={step} visit={visit} />
        ))}
      </ol>
      <Field
        label="Targets as stated"
        multiline
        value={draft.assignment.targets}
        onChange={(targets) => setAssignment({ targets })}
        refusal={refusalAt(refusals, 'visit.assignment.targets')}
      />
      <Field
        label="Limits"
        multiline
        value={draft.assignment.limits}
        onChange={(limits) => setAssignment({ limits })}
        hint={`On record: ${limitsOf(draft) || 'none stated'}`}
      />
      <Notice tone="mind">
        A limited look does not go round the tree. Where something needs a closer look, put the level up at
        the start of the visit, or propose to look deeper under works.
      </Notice>
      <div className="visit-danger">
        <Button kind="quiet" onPress={() => go('urgent')}>
          Somebody is in danger: urgent note
        </Button>
      </div>
      <StepPhotos visit={visit} step="Limited look" />
      <PhotoNews taking={taking} />
      <div className="visit-foot">
        <PhotoPress
          taking={taking}
          from="camera"
          label={openFinding ? `Photo of ${openFinding.kind}` : 'Photo for this visit'}
          className="visit-photo"
        >
          Photo
        </PhotoPress>
        <Button kind="do" className="visit-next" onPress={() => go('rating')}>
          {firstOpen(draft) ? `Next: the rating, ${left} open` : 'Next: the rating'}
        </Button>
      </div>
    </>
  )
}

const answers = [
  ['nothing-found', 'Nothing found'],
  ['findings', 'Findings'],
  ['not-seen', 'Not seen'],
] as const

/** One step: three answers side by side; a finding or a reason opens under it. */
function Row({ step, visit }: { step: LookingStep; visit: VisitHandle }) {
  const { draft } = visit
  const given = draft.answers[step]?.result ?? null
  const isOpen = stepAt(draft, 'short') === step
  const found = draft.findings.filter((f) => f.step === step)
  const why = draft.answers[step]?.notSeenBecause
  const say = found.length > 0 ? found.map((f) => f.kind).join(', ') : given === 'not-seen' ? why : ''
  const open = (id: string | null) => visit.change((d) => ({ ...d, open: id }))
  return (
    <li className="short-step">
      <fieldset>
        <legend>{stepTitle(step)}</legend>
        <div className="short-answers">
          {answers.map(([result, words]) => (
            <ToggleButton
              key={result}
              className="word-press short-answer"
              isSelected={given === result}
              aria-label={`${stepTitle(step)}: ${words}`}
              onChange={() =>
                visit.change((d) => ({
                  ...answer(d, step, result, result === 'not-seen' ? (why ?? null) : null),
                  open: result === 'nothing-found' ? null : step,
                }))
              }
            >
              <StepGlyph state={result} widthPx={20} heightPx={12} hidden />
              {words}
            </ToggleButton>
          ))}
        </div>
      </fieldset>
      {isOpen && given === 'not-seen' ? <WhyNotSeen step={step} visit={visit} /> : null}
      {isOpen && given === 'findings' ? <StepFindings step={step} visit={visit} /> : null}
      {given === 'findings' || given === 'not-seen' ? (
        <Button kind="quiet" onPress={() => open(isOpen ? null : step)}>
          {isOpen ? 'Done here' : say || 'Say what it was'}
        </Button>
      ) : null}
    </li>
  )
}
