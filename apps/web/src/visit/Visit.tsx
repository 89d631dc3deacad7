import { type LookingStep, lookingStepNames, lookingSteps } from '@underbough/model'
import { keepingNames, StepGlyph, type StepState } from '@underbough/pictures'
import { useEffect, useRef } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { KeepingState, Notice, sayTime } from '../look/index.ts'
import { ClosedScreen } from './ClosedScreen.tsx'
import { ClosingScreen } from './ClosingScreen.tsx'
import { useContacts } from './contacts.ts'
import { addAccuracy, addSeconds, minutesOf, type Screen } from './draft.ts'
import { RatingScreen } from './RatingScreen.tsx'
import { ShortScreen } from './ShortScreen.tsx'
import { StartScreen } from './StartScreen.tsx'
import { StepScreen } from './StepScreen.tsx'
import { isStep, type ScreenProps, stateOf, stepAt, wentTo } from './screen.ts'
import type { KeptVisit } from './store.ts'
import { UrgentScreen } from './UrgentScreen.tsx'
import { usePlace } from './usePlace.ts'
import { useStepClock } from './useStepClock.ts'
import { useVisit } from './useVisit.ts'
import { VisitRail } from './VisitRail.tsx'
import { WorksScreen } from './WorksScreen.tsx'

/** One visit: a screen at a time under the thumb; at a desk the tree stands beside it. */
export function Visit({ initial, stopId }: { initial: KeptVisit; stopId: string | null }) {
  const visit = useVisit(initial)
  const { draft, closed } = visit
  const body = useRef<HTMLDivElement>(null)
  // Fetched while there is signal: the urgent note needs them when there is none.
  useContacts()
  // A draft taken up again stands where it must, whatever it was left at.
  const screen = wentTo(draft, draft.screen).screen
  // On the one screen of a limited look the row that is open is the step one stands at.
  const step = closed ? null : stepAt(draft, screen)
  useStepClock(step, (at, seconds) => visit.change((d) => addSeconds(d, at as LookingStep, seconds)))
  const isLooking = !closed && (isStep(screen) || screen === 'short')
  const place = usePlace(isLooking, (metres) => {
    const steps = isStep(screen) ? [screen] : lookingSteps
    visit.change((d) => addAccuracy(d, steps, metres))
  })
  const go = (to: Screen) => visit.change((d) => wentTo(d, to))
  const first = useRef(true)
  // Each screen begins at its heading, for the eye and for those who listen.
  // biome-ignore lint/correctness/useExhaustiveDependencies: run when the screen changes
  useEffect(() => {
    if (first.current) {
      first.current = false
      return
    }
    body.current?.scrollTo(0, 0)
    body.current?.querySelector<HTMLElement>('h1')?.focus({ preventScroll: true })
  }, [screen, closed !== null])
  if (closed) return <ClosedScreen closed={closed} visit={visit} stopId={stopId} />
  const props: ScreenProps = { visit, place, go }
  return (
    <div className={`visit visit-at-${isStep(screen) ? 'step' : screen}`}>
      <VisitRail {...props} />
      <div className="visit-main">
        <VisitHead {...props} />
        {visit.unkept ? <Notice tone="refused">{visit.unkept.message}</Notice> : null}
        <div className="visit-body" ref={body}>
          {screen === 'start' ? (
            <StartScreen {...props} />
          ) : screen === 'rating' ? (
            <RatingScreen {...props} />
          ) : screen === 'works' ? (
            <WorksScreen {...props} />
          ) : screen === 'urgent' ? (
            <UrgentScreen {...props} />
          ) : screen === 'closing' ? (
            <ClosingScreen {...props} />
          ) : screen === 'short' ? (
            <ShortScreen {...props} />
          ) : (
            <StepScreen key={screen} step={screen} {...props} />
          )}
        </div>
      </div>
    </div>
  )
}

function VisitHead({ visit, go }: ScreenProps) {
  const { draft, kept } = visit
  const { tree } = kept.ground.whole
  const minutes = Math.round(minutesOf(draft))
  return (
    <div className="visit-head">
      <div className="row wrap visit-line">
        <span>
          {tree.tag} {tree.commonName ?? tree.species}, level {draft.assignment.level}
        </span>
        <span className="sp" role="status">
          <KeepingState keeping={visit.keeping}>
            {keepingNames[visit.keeping]}, {sayTime(kept.keptAt)}
          </KeepingState>
        </span>
      </div>
      <nav className="visit-bars" aria-label="The seven steps">
        {lookingSteps.map((step, i) => (
          <AriaButton
            key={step}
            className="visit-bar"
            aria-label={`Go to ${i + 1} ${lookingStepNames[step]}: ${sayState(stateOf(draft, step))}`}
            aria-current={draft.screen === step ? 'step' : undefined}
            onPress={() => go(step)}
          >
            <StepGlyph
              state={stateOf(draft, step)}
              widthPx={46}
              heightPx={draft.screen === step ? 16 : 12}
              hidden
            />
          </AriaButton>
        ))}
      </nav>
      {minutes > 0 ? <span className="out-of-sight">{minutes} minutes at the steps so far</span> : null}
    </div>
  )
}
const sayState = (state: StepState) =>
  ({
    'nothing-found': 'nothing found',
    findings: 'something found',
    'not-seen': 'not seen',
    'to-come': 'to come',
    now: 'here',
  })[state]
