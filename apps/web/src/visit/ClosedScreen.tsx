import { type CivilDate, daysBetween } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { useEffect, useRef } from 'react'
import { refusalsOf, useEndStop, useMapView } from '../api/index.ts'
import { capital, Facts, LinkButton, Notice, Standing, sayDate, sayDay, sayLength } from '../look/index.ts'
import type { Closed } from './send.ts'
import type { VisitHandle } from './useVisit.ts'
import { VisitPhotos } from './VisitPhotos.tsx'

/** After closing: when this tree is due next and why, and the way on. */
export function ClosedScreen({
  closed,
  visit,
  stopId,
}: {
  closed: Closed
  visit: VisitHandle
  stopId: string | null
}) {
  const { due, before, rating } = closed
  const { tree } = visit.kept.ground.whole
  const view = useMapView()
  const today = view.data?.today ?? closed.visit.startedAt.slice(0, 10)
  const end = useEndStop()
  const heading = useRef<HTMLHeadingElement>(null)
  const { mutate } = end
  const once = useRef(false)
  useEffect(() => {
    heading.current?.focus()
    if (!stopId || once.current) return
    once.current = true
    mutate({ id: stopId, visitId: closed.visit.id, skippedBecause: null })
  }, [stopId, mutate, closed.visit.id])
  return (
    <div className="visit visit-closed">
      <div className="visit-main">
        <div className="visit-body">
          <p className="q">
            {tree.tag} {tree.commonName ?? tree.species}
          </p>
          <h1 tabIndex={-1} ref={heading}>
            The visit is closed
          </h1>
          <section className="next-due" aria-label="When it is due next">
            {due ? (
              <>
                <p className="tree-word">
                  {due.kind === 'work' ? 'Work' : 'Next look'} {sayWhen(due.on, today)}
                </p>
                <p className="prose">{due.reason}</p>
                {due.lookOn ? (
                  <p className="q">
                    The look under it: {sayDay(due.lookOn)} {due.lookOn.slice(0, 4)}.
                  </p>
                ) : null}
                {before && before.on !== due.on ? (
                  <p className="q">Before this visit it stood at {sayDate(before.on)}.</p>
                ) : null}
              </>
            ) : (
              <p className="tree-word">Nothing is due here any more</p>
            )}
          </section>
          {rating ? (
            <div className="row c">
              <TreeMark risk={rating.risk} visited boxPx={34} hidden />
              <span>
                <b>{capital(rating.risk)}</b>, policy {rating.policyEdition}, matrices{' '}
                {rating.matricesEdition}
              </span>
            </div>
          ) : (
            <p className="q">No rating was made on this visit.</p>
          )}
          <Facts
            rows={[
              ['Findings', String(closed.visit.findings.length)],
              ['Works proposed', String(visit.draft.works.length)],
              ['Closed by', closed.visit.personName],
            ]}
          />
          <VisitPhotos visit={visit} />
          {refusalsOf(end.error).map((r) => (
            <Notice key={r.code} tone="mind" title="The stop of the round was not ended.">
              {r.message} The visit itself is closed.
            </Notice>
          ))}
          <Standing small />
          <div className="visit-foot">
            <LinkButton className="visit-photo" to={`/trees/${tree.id}`}>
              The tree
            </LinkButton>
            <LinkButton kind="do" className="visit-next" to={stopId ? '/today' : '/trees'}>
              {stopId ? 'On to the next stop' : 'All trees'}
            </LinkButton>
          </div>
        </div>
      </div>
    </div>
  )
}

function sayWhen(on: CivilDate, today: CivilDate): string {
  const days = daysBetween(today, on)
  const when = `${sayDate(on)}`
  if (days === 0) return `today, ${when}`
  return days < 0 ? `${when}, ${sayLength(days)} late` : `${when}, in ${sayLength(days)}`
}
