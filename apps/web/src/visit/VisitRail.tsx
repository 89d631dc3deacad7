import { lookingStepNames, lookingSteps } from '@underbough/model'
import { StepGlyph, TreeMark, TreePortrait } from '@underbough/pictures'
import { Button as AriaButton } from 'react-aria-components/Button'
import { portraitTree, targetOf } from '../ground/targets.ts'
import { capital, Standing, sayDate } from '../look/index.ts'
import { foundOf, type Screen } from './draft.ts'
import { type ScreenProps, stateOf } from './screen.ts'

/** Beside the steps at a desk: the tree with what was found so far, and the way through the visit. */
export function VisitRail({ visit, go }: ScreenProps) {
  const { draft, kept } = visit
  const { whole, exposure } = kept.ground
  const { tree } = whole
  const first = exposure?.zones.find((zone) => zone.geometry)
  const rest: [Screen, string][] = [
    ['rating', 'Rating'],
    ['works', 'Works'],
    ['closing', 'Read it back'],
  ]
  return (
    <aside className="visit-rail" aria-label="The tree and the way through the visit">
      <div className="row">
        <TreeMark
          risk={whole.risk}
          overdue={whole.overdueDays > 0}
          visited={whole.seen}
          status={tree.status}
          boxPx={30}
          hidden
        />
        <p className="visit-name">
          <span className="tag">{tree.tag}</span> <b>{tree.commonName ?? tree.species}</b>
        </p>
      </div>
      <p className="s q">
        {whole.rating
          ? `${capital(whole.rating.risk)}, ${whole.rating.personName}, ${sayDate(whole.rating.ratedAt.slice(0, 10))}`
          : 'Not yet rated'}
      </p>
      <TreePortrait
        tree={portraitTree(tree)}
        findings={foundOf(draft).map((f, i) => ({
          number: i + 1,
          name: f.kind,
          heightM: f.heightM,
          bearingDeg: f.bearingDeg,
        }))}
        target={first?.geometry ? targetOf(tree.position, { ...first, geometry: first.geometry }) : null}
        widthPx={330}
        maxHeightPx={260}
        small
        seed={Number.parseInt(tree.id.slice(0, 6), 16)}
      />
      <ol className="visit-way">
        <li>
          <AriaButton
            className="visit-way-press"
            aria-current={draft.screen === 'start' ? 'step' : undefined}
            onPress={() => go('start')}
          >
            What it is for
          </AriaButton>
        </li>
        {lookingSteps.map((step, i) => (
          <li key={step}>
            <AriaButton
              className="visit-way-press"
              aria-current={draft.screen === step ? 'step' : undefined}
              onPress={() => go(step)}
            >
              <StepGlyph state={stateOf(draft, step)} hidden />
              <span>
                {i + 1} {lookingStepNames[step]}
              </span>
              <span className="sp q">{minutes(draft.seconds[step])}</span>
            </AriaButton>
          </li>
        ))}
        {rest.map(([screen, name]) => (
          <li key={screen}>
            <AriaButton
              className="visit-way-press"
              aria-current={draft.screen === screen ? 'step' : undefined}
              onPress={() => go(screen)}
            >
              {name}
            </AriaButton>
          </li>
        ))}
      </ol>
      <Standing small />
    </aside>
  )
}
const minutes = (seconds = 0) => (seconds < 30 ? '' : `${Math.round(seconds / 60)} min`)
