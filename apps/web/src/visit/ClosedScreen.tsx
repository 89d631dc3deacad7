import { TreeMark } from '@underbough/pictures'
import { matrices } from '@underbough/rating'
import { useEffect, useRef } from 'react'
import { capital, Facts, KeepingState, LinkButton, Notice, Standing } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import type { Closed } from './closing.ts'
import { foundOf } from './draft.ts'
import { NextDue } from './NextDue.tsx'
import { madeOf } from './reckon.ts'
import { useReckoned } from './useReckoned.ts'
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
  const reckoned = useReckoned(visit)
  const rated = madeOf(visit.draft, new Date(), null).rating
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
          {answer ? (
            <NextDue due={answer.due} before={answer.before} />
          ) : reckoned.known ? (
            <NextDue due={reckoned.due} before={visit.kept.ground.whole.due} reckonedHere />
          ) : (
            <p className="q">When it is due next stands here once the office has the visit.</p>
          )}
          {answer?.rating ? (
            <div className="row c">
              <TreeMark risk={answer.rating.risk} visited boxPx={34} hidden />
              <span>
                <b>{capital(answer.rating.risk)}</b>, policy {answer.rating.policyEdition}, matrices{' '}
                {answer.rating.matricesEdition}
              </span>
            </div>
          ) : rated ? (
            <div className="row c">
              <TreeMark risk={rated.risk} visited boxPx={34} hidden />
              <span>
                <b>{capital(rated.risk)}</b>, worked out on this phone by matrices {matrices.edition}
              </span>
            </div>
          ) : visit.draft.leaveRating || !visit.draft.rating ? (
            <p className="q">No rating was made on this visit.</p>
          ) : null}
          <Facts
            rows={[
              ['Findings', String(foundOf(visit.draft).length)],
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
