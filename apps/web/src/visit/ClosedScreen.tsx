import { type CivilDate, type Due, daysBetween } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { useEffect, useRef } from 'react'
import { useMapView } from '../api/index.ts'
import {
  capital,
  Facts,
  KeepingState,
  LinkButton,
  Notice,
  Standing,
  sayDate,
  sayDay,
  sayLength,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import type { Closed } from './closing.ts'
import type { VisitHandle } from './useVisit.ts'
import { VisitPhotos } from './VisitPhotos.tsx'

/** After closing: where the visit is, when this tree is due next and why, and the way on. */
export function ClosedScreen({
  closed: { answer },
  visit,
  stopId,
}: {
  closed: Closed
  visit: VisitHandle
  stopId: string | null
}) {
  const { tree } = visit.kept.ground.whole
  const me = usePerson()
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => heading.current?.focus(), [])
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
          <p role="status">
            <KeepingState keeping={answer ? 'in-the-office' : 'on-this-phone'}>
              {answer ? 'At the office' : 'On this phone. It goes to the office by itself; you can go on.'}
            </KeepingState>
          </p>
          {answer ? <NextDue due={answer.due} before={answer.before} /> : null}
          {answer?.rating ? (
            <div className="row c">
              <TreeMark risk={answer.rating.risk} visited boxPx={34} hidden />
              <span>
                <b>{capital(answer.rating.risk)}</b>, policy {answer.rating.policyEdition}, matrices{' '}
                {answer.rating.matricesEdition}
              </span>
            </div>
          ) : visit.draft.leaveRating || !visit.draft.rating ? (
            <p className="q">No rating was made on this visit.</p>
          ) : null}
          <Facts
            rows={[
              ['Findings', String(visit.draft.findings.length)],
              ['Works proposed', String(visit.draft.works.length)],
              ['Closed by', answer?.visit.personName ?? me.name],
            ]}
          />
          <VisitPhotos visit={visit} />
          {visit.unkept ? <Notice tone="refused">{visit.unkept.message}</Notice> : null}
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

function NextDue({ due, before }: { due: Due | null; before: Due | null }) {
  const view = useMapView()
  const today = view.data?.today ?? new Date().toISOString().slice(0, 10)
  return (
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
  )
}

function sayWhen(on: CivilDate, today: CivilDate): string {
  const days = daysBetween(today, on)
  const when = `${sayDate(on)}`
  if (days === 0) return `today, ${when}`
  return days < 0 ? `${when}, ${sayLength(days)} late` : `${when}, in ${sayLength(days)}`
}
