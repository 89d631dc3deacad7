import type { Visit } from '@underbough/model'
import { LookingStrip, lookingCaption } from '@underbough/pictures'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Disclosure, DisclosurePanel } from 'react-aria-components/Disclosure'
import type { TreeWhole } from '../api/index.ts'
import { count, Plate, sayDate } from '../look/index.ts'
import { levelNames, lookedSteps } from './facts.ts'
import { onPhone, textScaleOf, useWidth } from './useWidth.ts'

const leafNames = {
  'in-leaf': 'in leaf',
  'out-of-leaf': 'out of leaf',
  'part-leaf': 'partly in leaf',
  evergreen: 'evergreen',
} as const
const head = (visit: Visit) =>
  `${visit.personName}, level ${visit.level} ${levelNames[visit.level]}, ${leafNames[visit.leafState]}`

/** The last visit step by step, and the visits before it. */
export function LookingPlate({ no, whole }: { no: number; whole: TreeWhole }) {
  const closed = whole.visits.filter((visit) => visit.stage === 'closed')
  const [last, ...earlier] = closed
  const [box, width] = useWidth()
  return (
    <Plate
      no={no}
      title={last ? `Looking sequence, ${sayDate(last.startedAt.slice(0, 10))}` : 'Looking sequence'}
      aside={last && !onPhone() ? head(last) : undefined}
      className="wide"
    >
      <div ref={box}>
        {last ? (
          <>
            {onPhone() ? <p className="q">{head(last)}</p> : null}
            {width > 0 ? (
              <LookingStrip
                steps={lookedSteps(last)}
                widthPx={width}
                textScale={textScaleOf(window.innerWidth)}
              />
            ) : null}
            <p className="caption">{lookingCaption(lookedSteps(last))}</p>
            {last.couldNotSee ? <p className="prose">Could not be seen: {last.couldNotSee}</p> : null}
          </>
        ) : (
          <p className="q">No closed visit yet. Seven steps, outside-in, stand here after the first one.</p>
        )}
        {earlier.length > 0 ? (
          <ul className="tree-list tree-more" aria-label="Earlier visits">
            {earlier.map((visit) => (
              <Earlier key={visit.id} visit={visit} whole={whole} />
            ))}
          </ul>
        ) : null}
      </div>
    </Plate>
  )
}

function Earlier({ visit, whole }: { visit: Visit; whole: TreeWhole }) {
  const rating = whole.ratings.find((r) => r.visitId === visit.id)
  return (
    <li>
      <Disclosure>
        <AriaButton slot="trigger" className="tree-row-button">
          <span className="b">{sayDate(visit.startedAt.slice(0, 10))}</span>
          <span className="q">{head(visit)}</span>
          <span className="sp">
            {visit.findings.length > 0 ? count(visit.findings.length, 'finding') : 'nothing found'}
            {rating ? `, ${rating.risk}` : ''}
          </span>
        </AriaButton>
        <DisclosurePanel>
          <div className="tree-earlier s">
            {visit.steps.map((answer, i) => {
              const step = lookedSteps(visit)[i]!
              return (
                <p key={answer.step}>
                  <b>{i + 1}</b> {step.found}
                </p>
              )
            })}
            {visit.findings.map((f) => (
              <p key={f.id}>
                {f.kind}
                {f.heightM === null ? '' : `, ${f.heightM} m up`}
                {f.bearingDeg === null ? '' : `, facing ${Math.round(f.bearingDeg)}°`}
                {f.extent ? `: ${f.extent}` : ''} {f.note}
              </p>
            ))}
          </div>
        </DisclosurePanel>
      </Disclosure>
    </li>
  )
}
