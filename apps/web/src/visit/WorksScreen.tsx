import { riskWords, type WorkInput, workKinds } from '@underbough/model'
import { workNames } from '@underbough/rating'
import { useEffect, useRef } from 'react'
import { useMapView } from '../api/index.ts'
import { Button, capital, Empty, Field, Notice, refusalAt, Select, sayDate } from '../look/index.ts'
import { foundOf } from './draft.ts'
import { proposeWorks, tooLate } from './judgement.ts'
import { WordRow } from './pieces.tsx'
import type { ScreenProps } from './screen.ts'

/** What is to be done about it: proposed from what was found, the owner decides. */
export function WorksScreen({ visit, go }: ScreenProps) {
  const { draft, kept } = visit
  const view = useMapView()
  const today = view.data?.today ?? draft.startedAt.slice(0, 10)
  const done = useRef(false)
  useEffect(() => {
    if (done.current || draft.works.length > 0 || !draft.rating || draft.leaveRating) return
    done.current = true
    const works = proposeWorks({
      findings: foundOf(draft),
      rating: draft.rating,
      policy: kept.ground.policy,
      today,
      treeId: draft.treeId,
      visitId: draft.id,
      newId: () => crypto.randomUUID(),
    })
    if (works.length > 0) visit.change((d) => ({ ...d, works }))
  }, [draft, kept, today, visit])
  const late = draft.leaveRating ? null : tooLate(draft.rating, draft.works, kept.ground.policy, today)
  const open = kept.ground.whole.works.filter((w) => w.state === 'proposed' || w.state === 'approved')
  const put = (id: string, part: Partial<WorkInput>) =>
    visit.change((d) => ({ ...d, works: d.works.map((w) => (w.id === id ? { ...w, ...part } : w)) }))
  return (
    <>
      <h1 tabIndex={-1}>Works</h1>
      {open.length > 0 ? (
        <p className="q">
          Still open from before:{' '}
          {open.map((w) => `${w.description}${w.dueOn ? `, due ${sayDate(w.dueOn)}` : ''}`).join('; ')}.
        </p>
      ) : null}
      {late ? (
        <Notice tone="mind" title="Something is imminent, and no work here is that early.">
          The policy asks for work by {sayDate(late)}. A work with a later date would put this tree off until
          then.
        </Notice>
      ) : null}
      {draft.works.length === 0 ? (
        <Empty title="No works proposed on this visit.">
          What you propose here goes to the owner, who accepts, refuses or puts it off.
        </Empty>
      ) : null}
      {draft.works.map((work, i) => (
        <section key={work.id} className="scenario" aria-label={`Work ${i + 1}`}>
          <Field
            label="What is to be done"
            multiline
            value={work.description}
            onChange={(description) => put(work.id, { description })}
            refusal={
              refusalAt(visit.refusals, `works.${i}.description`) ??
              (work.description.trim() ? null : 'Say it in words.')
            }
          />
          <div className="two">
            <Select
              label="Kind"
              value={work.kind}
              options={workKinds.map((value) => ({ value, label: capital(workNames[value]) }))}
              onChange={(kind) => put(work.id, { kind })}
            />
            <Field
              label="Due on"
              type="date"
              value={work.dueOn ?? ''}
              onChange={(on) => put(work.id, { dueOn: on || null })}
              refusal={refusalAt(visit.refusals, `works.${i}.dueOn`)}
            />
          </div>
          <Button
            kind="quiet"
            onPress={() => visit.change((d) => ({ ...d, works: d.works.filter((w) => w.id !== work.id) }))}
          >
            Take this work out
          </Button>
        </section>
      ))}
      <Button
        kind="quiet"
        onPress={() =>
          visit.change((d) => ({
            ...d,
            works: [
              ...d.works,
              {
                id: crypto.randomUUID(),
                treeId: d.treeId,
                visitId: d.id,
                kind: 'prune',
                description: '',
                dueOn: null,
                cost: null,
                residualRisk: null,
              },
            ],
          }))
        }
      >
        Propose a work
      </Button>
      {draft.works.length > 0 && draft.rating && !draft.leaveRating ? (
        <WordRow
          label="Risk that would remain after the works"
          words={riskWords}
          value={draft.rating.residualRisk}
          onChange={(residualRisk) =>
            visit.change((d) => ({ ...d, rating: d.rating && { ...d.rating, residualRisk } }))
          }
        />
      ) : null}
      <p className="visit-caution">Work at height, near power lines or with saws is for licensed crews.</p>
      <div className="visit-foot">
        <Button
          kind="do"
          className="visit-next"
          isDisabled={draft.works.some((w) => !w.description.trim())}
          onPress={() => go('closing')}
        >
          Next: read it back
        </Button>
      </div>
    </>
  )
}
