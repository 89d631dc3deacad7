import { type LookingStep, lookingStepNames } from '@underbough/model'
import { StepGlyph } from '@underbough/pictures'
import { Button, Notice } from '../look/index.ts'
import { PhotoNews, PhotoPress } from '../photos/index.ts'
import { ReadingOver } from '../probes/ReadingOver.tsx'
import { answer, nextStep, stepName, stepTitle } from './draft.ts'
import { stepHints } from './kinds.ts'
import { oneTap } from './oneTap.ts'
import { AnswerPress } from './pieces.tsx'
import { StepFindings, WhyNotSeen } from './StepParts.tsx'
import type { ScreenProps } from './screen.ts'
import { sayPlaceState } from './usePlace.ts'
import { StepPhotos, useVisitTaking } from './VisitPhotos.tsx'

/** Steps at which somebody may look into the wood. */
const into: ReadonlySet<LookingStep> = new Set<LookingStep>(['base', 'stem', 'main-branches'])

/** One step: seen and clear, seen with findings, or not seen and why. */
export function StepScreen({ step, visit, place, go }: ScreenProps & { step: LookingStep }) {
  const { draft, refusals } = visit
  const { tree } = visit.kept.ground.whole
  const given = draft.answers[step]
  const findings = draft.findings.filter((f) => f.step === step)
  const openFinding = findings.find((f) => f.id === draft.open)
  const taking = useVisitTaking(visit, openFinding?.id ?? null, lookingStepNames[step])
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
        <span className="sp q">
          {[minutes > 0 ? `${minutes} min` : '', sayPlaceState(place)].filter(Boolean).join(', ')}
        </span>
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
          onPress={() => visit.change((d) => answer(d, step, 'findings'))}
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
      {given?.result === 'not-seen' ? <WhyNotSeen step={step} visit={visit} /> : null}
      {given?.result === 'findings' ? <StepFindings step={step} visit={visit} /> : null}
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
