import { failureWords, partSizeWords, scenarioParts } from '@underbough/model'
import { WordPath } from '@underbough/pictures'
import { Button, capital, Field, NumberField, Select } from '../look/index.ts'
import { textScaleOf } from '../tree/useWidth.ts'
import { proposeTargets, type ScenarioDraft, worstOf } from './judgement.ts'
import { WordRow } from './pieces.tsx'
import type { ScreenProps } from './screen.ts'
import { TargetPart } from './TargetPart.tsx'
import { useAsked } from './useAsked.ts'

const partNames = { 'whole-tree': 'The whole tree', stem: 'The stem', limb: 'A limb' } as const
const fromWords = {
  finding: 'from what was found today',
  earlier: 'from the rating in force',
  usual: 'proposed, as nothing was found',
  own: 'your own',
} as const

/** One way in which the tree may fail, and what it would meet. */
export function ScenarioPart(props: {
  scenario: ScenarioDraft
  index: number
  visit: ScreenProps['visit']
  refusalFor(path: string): string | null
  put(part: Partial<ScenarioDraft>): void
  onTakeOut(): void
}) {
  const { scenario, index, visit, refusalFor, put, onTakeOut } = props
  const worst = worstOf(scenario)
  const asked = useAsked(visit, scenario)
  const { timeFrameYears } = visit.draft.assignment
  const wide = window.innerWidth >= 900
  return (
    <section className="scenario" aria-label={`Scenario ${index + 1}`}>
      <div className="row scenario-head">
        <h2>
          {index + 1} {partNames[scenario.part]}
        </h2>
        <span className="sp q">{fromWords[scenario.from]}</span>
      </div>
      <Field
        label="What fails, and where it falls"
        multiline
        value={scenario.description}
        onChange={(description) => put({ description })}
        refusal={refusalFor('description')}
      />
      <WordRow
        label={`Failure within ${timeFrameYears} years`}
        words={failureWords}
        value={scenario.failure}
        onChange={(failure) => put({ failure })}
      />
      {scenario.targets.map((target, t) => (
        <TargetPart
          key={t}
          target={target}
          label={`Scenario ${index + 1}, target ${t + 1}: ${target.targetName}`}
          near={visit.kept.near}
          size={scenario.partSize}
          asked={asked(target)}
          refusalFor={(path) => refusalFor(`targets.${t}.${path}`)}
          onChange={(next) => put({ targets: scenario.targets.map((old, at) => (at === t ? next : old)) })}
          onTakeOut={() => put({ targets: scenario.targets.filter((_, at) => at !== t) })}
        />
      ))}
      {refusalFor('targets') && scenario.targets.length === 0 ? (
        <p className="field-refusal">{refusalFor('targets')}</p>
      ) : null}
      <div className="row wrap c">
        <Button
          kind="quiet"
          onPress={() =>
            put({
              targets: [
                ...scenario.targets,
                ...proposeTargets(
                  'whole-tree',
                  scenario.partSize,
                  visit.kept.ground.whole.tree,
                  visit.kept.near.filter((n) => !scenario.targets.some((has) => has.targetName === n.name)),
                ).slice(0, 1),
              ],
            })
          }
        >
          Another target
        </Button>
        <Button kind="quiet" onPress={onTakeOut}>
          {scenario.from === 'earlier' ? 'No longer so: take it out' : 'Take this out'}
        </Button>
      </div>
      <details className="scenario-more">
        <summary>Part, size, place, direction</summary>
        <div className="two">
          <Select
            label="Part"
            value={scenario.part}
            options={scenarioParts.map((value) => ({ value, label: partNames[value] }))}
            onChange={(part) => put({ part })}
          />
          <Select
            label="Size"
            value={scenario.partSize}
            options={partSizeWords.map((value) => ({ value, label: capital(value) }))}
            onChange={(partSize) => put({ partSize })}
          />
          <NumberField
            label="Height"
            unit="m"
            value={scenario.heightM}
            onChange={(heightM) => put({ heightM })}
            refusal={refusalFor('heightM')}
          />
          <NumberField
            label="Falls towards, if known"
            unit="degrees"
            value={scenario.knownBearingDeg}
            onChange={(deg) => put({ knownBearingDeg: deg === null ? null : ((deg % 360) + 360) % 360 })}
            refusal={refusalFor('knownBearingDeg')}
          />
          {scenario.part === 'limb' ? (
            <>
              <NumberField
                label="Limb’s length"
                unit="m"
                value={scenario.lengthM ?? null}
                hint="Empty: as far as the crown reaches on its side."
                onChange={(lengthM) => put({ lengthM })}
                refusal={refusalFor('lengthM')}
              />
              <NumberField
                label="Thick at its union"
                unit="cm"
                value={scenario.diameterCm ?? null}
                hint="Empty: a share of the stem’s."
                onChange={(diameterCm) => put({ diameterCm })}
                refusal={refusalFor('diameterCm')}
              />
            </>
          ) : null}
          {scenario.part === 'stem' ? (
            <NumberField
              label="Reaches from the tree’s foot"
              unit="m"
              value={scenario.reachM ?? null}
              hint="Empty: its whole height. A part that hinges lands further than its own length, so no less counts."
              onChange={(reachM) => put({ reachM })}
              refusal={refusalFor('reachM')}
            />
          ) : null}
        </div>
      </details>
      {worst ? (
        <div className="scenario-path">
          <p className="q">Worst target: {worst.targetName}</p>
          <WordPath
            path={{ ...worst, timeFrameYears }}
            widthPx={wide ? 380 : 330}
            textScale={textScaleOf(window.innerWidth)}
          />
        </div>
      ) : (
        <p className="q">Say the open words; the risk follows from them.</p>
      )}
    </section>
  )
}
