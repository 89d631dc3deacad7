import { changeWords, lookingSteps, riskWords } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { useEffect, useRef } from 'react'
import { Button, capital, Field, Notice, refusalAt, Standing, sayDate, Tick } from '../look/index.ts'
import { type Draft, foundOf } from './draft.ts'
import {
  isUrgent,
  judge,
  proposeScenarios,
  proposeTargets,
  type RatingDraft,
  type ScenarioDraft,
} from './judgement.ts'
import { NextDue } from './NextDue.tsx'
import { WordRow } from './pieces.tsx'
import type { Reckoned } from './reckon.ts'
import { ScenarioPart } from './ScenarioPart.tsx'
import type { ScreenProps } from './screen.ts'
import { useReckoned } from './useReckoned.ts'

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
