import { type LookingStep, lookingStepNames, lookingSteps } from '@underbough/model'
import { StepGlyph, type StepState } from '@underbough/pictures'
import { useEffect, useRef } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Link } from 'react-router'
import { KeepingState, Notice, sayTime } from '../look/index.ts'
import { useKeeping } from '../shell/index.ts'
import { ClosedScreen } from './ClosedScreen.tsx'
import { ClosingScreen } from './ClosingScreen.tsx'
import { addSeconds, minutesOf, type Screen } from './draft.ts'
import { RatingScreen } from './RatingScreen.tsx'
import { StartScreen } from './StartScreen.tsx'
import { StepScreen } from './StepScreen.tsx'
import { isStep, type ScreenProps, stateOf, wentTo } from './screen.ts'
import type { KeptVisit } from './store.ts'
import { UrgentScreen } from './UrgentScreen.tsx'
import { useStepClock } from './useStepClock.ts'
import { useVisit } from './useVisit.ts'
import { VisitRail } from './VisitRail.tsx'
import { WorksScreen } from './WorksScreen.tsx'

/** One visit: a screen at a time under the thumb; at a desk the tree stands beside it. */
export function Visit({ initial, stopId }: { initial: KeptVisit; stopId: string | null }) {
  const visit = useVisit(initial)
  const { draft, closed, kept } = visit
  const body = useRef<HTMLDivElement>(null)
  // A draft taken up again stands where it must, whatever it was left at.
  const screen = wentTo(draft, draft.screen).screen
  const step = isStep(screen) && !closed ? screen : null
  useStepClock(step, (at, seconds) => visit.change((d) => addSeconds(d, at as LookingStep, seconds)))
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
  const props: ScreenProps = { visit, go }
  return (
    <div className={`visit visit-at-${isStep(screen) ? 'step' : screen}`}>
      <VisitRail visit={visit} go={go} />
      <div className="visit-main">
        <VisitHead visit={visit} go={go} />
        {kept.toClose && !visit.closing ? (
          <Notice tone="mind" title="Closed on this device.">
            There was no signal, so the office has not got it yet. It goes by itself when there is; you can go
            on to the next tree.{' '}
            <Link to={stopId ? '/today' : '/trees'}>{stopId ? 'On to the next stop' : 'All trees'}</Link>
          </Notice>
        ) : null}
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
  const { online } = useKeeping()
  const { tree } = kept.ground.whole
  const sent = kept.sentAt !== null && kept.sentAt >= kept.keptAt
  const minutes = Math.round(minutesOf(draft))
  return (
    <div className="visit-head">
      <div className="row wrap visit-line">
        <span>
          {tree.tag} {tree.commonName ?? tree.species}, level {draft.assignment.level}
        </span>
        <span className="sp" role="status">
          <KeepingState keeping={sent ? 'in-the-office' : 'on-this-phone'}>
            {sent ? 'In the office' : online ? 'Kept here' : 'No signal, kept here'}, {sayTime(kept.keptAt)}
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
