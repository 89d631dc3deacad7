import { TreeMark, WordPath } from '@underbough/pictures'
import { useMemo } from 'react'
import { useNavigate } from 'react-router'
import { address, type TreeWhole, useMapView, useSites } from '../api/index.ts'
import { dueWords } from '../ground/dueWords.ts'
import { Button, capital, LinkButton, Notice, Reasons, sayDate } from '../look/index.ts'
import { squaresOver } from '../map/index.ts'
import { AsOf, usePerson } from '../shell/index.ts'
import { sayTold } from '../urgent/index.ts'
import { pathOf, sayPosition } from './facts.ts'
import { onPhone, textScaleOf } from './useWidth.ts'

interface HeadProps {
  whole: TreeWhole
  today: string
  onEdit(): void
}

/** Name and place; the rating with its words; what is late, at full size; what can be done. */
export function TreeHead({ whole, today, onEdit }: HeadProps) {
  const { role } = usePerson()
  const go = useNavigate()
  return (
    <header className="tree-head">
      <NameBlock whole={whole} />
      <RatingBlock whole={whole} />
      <DueBlock whole={whole} today={today} />
      <div className="tree-presses">
        {role === 'inspector' || role === 'officer' ? (
          <Button kind="do" onPress={() => go(`/trees/${whole.tree.id}/visit`)}>
            Start a visit
          </Button>
        ) : null}
        {role === 'client' ? null : <Button onPress={onEdit}>Edit</Button>}
        <LinkButton kind="quiet" to={`/ground?tree=${whole.tree.id}`}>
          On the map
        </LinkButton>
      </div>
      {whole.urgentNotes
        .filter((note) => note.acknowledgedAt === null)
        .map((note) => (
          <div key={note.id} className="tree-urgent">
            <Notice tone="refused" title="Urgent, and not yet acknowledged.">
              {note.keptOut ? 'People are kept out.' : 'People are not kept out.'} Told: {sayTold(note)}.{' '}
              {note.interimClosure} {note.personName}, {sayDate(note.writtenAt.slice(0, 10))}.
            </Notice>
          </div>
        ))}
    </header>
  )
}

function NameBlock({ whole: { tree } }: { whole: TreeWhole }) {
  const view = useMapView()
  const sites = useSites()
  const square = useMemo(
    () => (view.data ? squaresOver(view.data.bounds).squareOf(tree.position[0], tree.position[1]) : null),
    [view.data, tree.position],
  )
  const site = sites.data?.find((s) => s.id === tree.siteId)?.name
  const place = [site, square ? `square ${square}` : null].filter(Boolean).join(', ')
  return (
    <div className="tree-name">
      <p className="s q">
        {place ? <span className="tree-place">{place}</span> : null}{' '}
        <span className="tree-place">
          {sayPosition(tree.position)}
          {tree.positionAccuracyM === null ? '' : `, ± ${tree.positionAccuracyM} m`}
        </span>
      </p>
      <h1>
        <span className="tag">{tree.tag}</span>
        {tree.commonName ?? tree.species}
      </h1>
      {tree.commonName ? <p className="latin">{tree.species}</p> : null}
      <AsOf address={address(`/trees/${tree.id}`)} />
    </div>
  )
}

function RatingBlock({ whole }: { whole: TreeWhole }) {
  const { rating, tree } = whole
  const worst = rating?.scenarios.find((s) => s.id === rating.worst.scenarioId)
  return (
    <div className="tree-rate">
      <TreeMark
        risk={whole.risk}
        overdue={whole.overdueDays > 0}
        visited={whole.seen}
        status={tree.status}
        boxPx={34}
        hidden
      />
      <div>
        <div className="tree-word">
          {whole.risk ? capital(whole.risk) : whole.seen ? 'Rating not closed' : 'Never visited'}
        </div>
        <p className="prose">
          {worst?.description ??
            (whole.seen
              ? 'Seen; nobody has closed a rating.'
              : whole.onlyHere
                ? 'Met on the way: no rating of it is on record yet.'
                : 'Known from a list only: nobody has looked at it yet.')}{' '}
          {rating ? (
            <span className="q">
              {rating.personName}, {sayDate(rating.ratedAt.slice(0, 10))}.
            </span>
          ) : null}
        </p>
        {rating?.reopenedBecause ? (
          <Notice tone="mind" title="Open again.">
            {rating.reopenedBecause}
          </Notice>
        ) : null}
        {rating ? (
          <WordPath
            path={pathOf(rating)}
            widthPx={onPhone() ? 300 : 326}
            textScale={textScaleOf(window.innerWidth)}
          />
        ) : null}
      </div>
    </div>
  )
}

function DueBlock({ whole, today }: { whole: TreeWhole; today: string }) {
  const open = whole.works.find(
    (w) => w.dueOn === whole.due?.on && (w.state === 'proposed' || w.state === 'approved'),
  )
  const { heading, lines } = dueWords(whole.due, today, open?.description)
  return (
    <div className="tree-due">
      <div className="tree-word">{heading}</div>
      {lines.map((line, i) => (
        <div key={line} className={i === 0 ? 'prose' : 's q'}>
          {line}{' '}
          {i === 0 && whole.dueParts.length > 0 ? (
            <Reasons>
              {whole.dueParts.map((part) => (
                <span key={part.rule + part.words} className="reason">
                  {capital(part.words)}
                </span>
              ))}
              <span className="reason">Policy edition {whole.due?.policyEdition}.</span>
            </Reasons>
          ) : null}
        </div>
      ))}
    </div>
  )
}
