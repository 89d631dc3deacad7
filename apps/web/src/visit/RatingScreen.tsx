import {
  changeWords,
  failureWords,
  lookingSteps,
  partSizeWords,
  riskWords,
  scenarioParts,
} from '@underbough/model'
import { TreeMark, WordPath } from '@underbough/pictures'
import { useEffect, useRef } from 'react'
import {
  Button,
  capital,
  Field,
  Notice,
  NumberField,
  refusalAt,
  Select,
  Standing,
  sayDate,
  Tick,
} from '../look/index.ts'
import { textScaleOf } from '../tree/useWidth.ts'
import { type Draft, foundOf } from './draft.ts'
import {
  isUrgent,
  judge,
  proposeScenarios,
  proposeTargets,
  type RatingDraft,
  type ScenarioDraft,
  worstOf,
} from './judgement.ts'
import { NextDue } from './NextDue.tsx'
import { WordRow } from './pieces.tsx'
import type { Reckoned } from './reckon.ts'
import type { ScreenProps } from './screen.ts'
import { TargetPart } from './TargetPart.tsx'
import { useReckoned } from './useReckoned.ts'

const partNames = { 'whole-tree': 'The whole tree', stem: 'The stem', limb: 'A limb' } as const
const fromWords = {
  finding: 'from what was found today',
  earlier: 'from the rating in force',
  usual: 'proposed, as nothing was found',
  own: 'your own',
} as const

/** Changes the rating; the moment it becomes urgent the note comes before anything else. */
const changing =
  ({ visit }: ScreenProps) =>
  (make: (rating: RatingDraft) => RatingDraft) =>
    visit.change((d) => {
      if (!d.rating) return d
      const rating = make(d.rating)
      const urgent = isUrgent(rating) && !isUrgent(d.rating) && d.urgentNote === null
      return urgent ? { ...d, rating, screen: 'urgent' } : { ...d, rating }
    })

/** How bad: what may fail, what it would meet, and the words that follow, worked out by the office's own rule. */
export function RatingScreen(props: ScreenProps) {
  const { visit, go } = props
  const { draft, kept, refusals } = visit
  const change = changing(props)
  const { whole } = kept.ground
  useProposal(props)
  const reckoned = useReckoned(visit)
  const { rating } = draft
  const found = lookingSteps.filter((step) => draft.answers[step]?.result === 'findings').length
  if (!rating) return null
  const judged = judge(rating, {
    treeId: draft.treeId,
    visitId: draft.id,
    timeFrameYears: draft.assignment.timeFrameYears,
  })
  const all = [...judged.refusals, ...refusals.map((r) => ({ ...r, path: r.path.replace(/^rating\./, '') }))]
  const put = (id: string, part: Partial<ScenarioDraft>) =>
    change((r) => ({ ...r, scenarios: r.scenarios.map((s) => (s.id === id ? { ...s, ...part } : s)) }))
  return (
    <>
      <h1 tabIndex={-1}>Rating</h1>
      <p className="q">
        {found > 0 ? `Found at ${found} of 7 steps.` : 'Nothing was found.'} Failure within{' '}
        {draft.assignment.timeFrameYears} years.
      </p>
      {kept.ground.reckonedHere ? (
        <p className="q">
          Who is under it was worked out on this phone: the tree or a zone near it has changed.
        </p>
      ) : null}
      {whole.rating ? (
        <Tick
          isSelected={draft.leaveRating}
          onChange={(leaveRating) => visit.change((d) => ({ ...d, leaveRating }))}
        >
          Leave the rating of {sayDate(whole.rating.ratedAt.slice(0, 10))} ({whole.rating.risk}) as it is
        </Tick>
      ) : null}
      {draft.leaveRating ? (
        <Notice tone="mind">
          No rating is made on this visit. The tree counts as seen, its old rating stays.
        </Notice>
      ) : (
        <>
          {rating.scenarios.map((scenario, i) => (
            <ScenarioPart
              key={scenario.id}
              scenario={scenario}
              index={i}
              visit={visit}
              refusalFor={(path) => refusalAt(all, `scenarios.${i}.${path}`)}
              put={(part) => put(scenario.id, part)}
              onTakeOut={() =>
                change((r) => ({ ...r, scenarios: r.scenarios.filter((s) => s.id !== scenario.id) }))
              }
            />
          ))}
          {rating.scenarios.length === 0 ? (
            <Notice tone="mind">A rating needs one way in which the tree may fail.</Notice>
          ) : null}
          <Button
            kind="quiet"
            onPress={() => change((r) => ({ ...r, scenarios: [...r.scenarios, ownScenario(visit)] }))}
          >
            Another way it may fail
          </Button>
          <WordRow
            label="Change expected"
            words={changeWords}
            value={rating.changeRate}
            onChange={(changeRate) => change((r) => ({ ...r, changeRate }))}
          />
          <Outcome
            reckoned={reckoned}
            rating={rating}
            judged={judged}
            draft={draft}
            change={change}
            reason={refusalAt(all, 'overrideReason')}
          />
        </>
      )}
      <Standing small />
      <div className="visit-foot">
        <Button kind="do" className="visit-next" onPress={() => go('works')}>
          Next: works
        </Button>
      </div>
    </>
  )
}

/** Puts the proposal in place on first sight, and adds what was found since. */
function useProposal({ visit }: ScreenProps) {
  const { draft, kept } = visit
  const done = useRef(false)
  useEffect(() => {
    if (done.current) return
    done.current = true
    const { whole } = kept.ground
    const fresh = proposeScenarios({
      findings: foundOf(draft),
      earlier: whole.rating,
      tree: whole.tree,
      near: kept.near,
      newId: () => crypto.randomUUID(),
    })
    if (!draft.rating)
      visit.change((d) => ({
        ...d,
        rating: {
          id: crypto.randomUUID(),
          changeRate: whole.rating?.changeRate ?? 'ordinary',
          scenarios: fresh,
          overrideRisk: null,
          overrideReason: '',
          residualRisk: null,
        },
      }))
    else {
      const known = new Set(draft.rating.scenarios.map((s) => s.description))
      const late = fresh.filter((s) => s.from === 'finding' && !known.has(s.description))
      if (late.length > 0 && draft.rating.scenarios.every((s) => s.from === 'usual'))
        visit.change((d) => ({ ...d, rating: d.rating && { ...d.rating, scenarios: late } }))
    }
  }, [draft, kept, visit])
}

const ownScenario = (visit: ScreenProps['visit']): ScenarioDraft => ({
  id: crypto.randomUUID(),
  from: 'own',
  part: 'limb',
  partSize: 'medium',
  heightM: null,
  description: 'A limb comes down.',
  failure: null,
  knownBearingDeg: null,
  targets: proposeTargets('limb', 'medium', visit.kept.ground.whole.tree, visit.kept.near),
})

function ScenarioPart(props: {
  scenario: ScenarioDraft
  index: number
  visit: ScreenProps['visit']
  refusalFor(path: string): string | null
  put(part: Partial<ScenarioDraft>): void
  onTakeOut(): void
}) {
  const { scenario, index, visit, refusalFor, put, onTakeOut } = props
  const worst = worstOf(scenario)
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
        <summary>Part, size, height, direction</summary>
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

function Outcome(props: {
  reckoned: Reckoned
  rating: RatingDraft
  judged: ReturnType<typeof judge>
  draft: Draft
  change(make: (rating: RatingDraft) => RatingDraft): void
  reason: string | null
}) {
  const { rating, judged, change, reason, reckoned } = props
  const computed = judged.rated?.computedRisk ?? null
  const risk = judged.rated?.risk ?? null
  const words = ['as the words say', ...riskWords] as const
  const differs = rating.overrideRisk !== null && rating.overrideRisk !== computed
  return (
    <section className="outcome" aria-label="The rating">
      <div className="row c" role="status">
        <TreeMark risk={risk} visited boxPx={34} hidden />
        <span className="tree-word">{risk ? capital(risk) : 'Not rated yet'}</span>
        {judged.rated?.overridden ? <span className="q">the words give {computed}</span> : null}
        {!judged.rated && judged.openWords > 0 ? (
          <span className="q">
            {judged.openWords === 1 ? 'one word is open' : `${judged.openWords} words are open`}
          </span>
        ) : null}
      </div>
      <WordRow
        label="Your own word for the risk"
        words={words}
        value={rating.overrideRisk ?? 'as the words say'}
        onChange={(word) =>
          change((r) => ({ ...r, overrideRisk: word === 'as the words say' ? null : word }))
        }
      />
      {rating.overrideRisk !== null ? (
        <Field
          label="Why it differs"
          multiline
          value={rating.overrideReason}
          onChange={(overrideReason) => change((r) => ({ ...r, overrideReason }))}
          refusal={
            differs && !rating.overrideReason.trim() ? 'Both are kept; say why yours differs.' : reason
          }
        />
      ) : null}
      {reckoned.known && risk ? <NextDue due={reckoned.due} before={null} reckonedHere /> : null}
    </section>
  )
}
