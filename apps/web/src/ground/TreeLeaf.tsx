import { type ExposureFlagCode, exposureFlagSentences } from '@underbough/exposure'
import type { CivilDate } from '@underbough/model'
import { TreeMark, TreePortrait } from '@underbough/pictures'
import { Refused, type TreeExposureView, type TreeWhole, useTree, useTreeExposure } from '../api/index.ts'
import {
  Button,
  capital,
  ErrorNote,
  Leaf,
  LinkButton,
  Loading,
  Reasons,
  Standing,
  sayDate,
  sayDay,
  sayOrdinal,
  sayPeople,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { dueWords } from './dueWords.ts'
import { findingsOf, portraitTree, targetOf } from './targets.ts'

export interface PlannedStop {
  letter: string
  date: CivilDate
  order: number
}
interface TreeLeafProps {
  treeId: string
  today: CivilDate
  squareOf(lon: number, lat: number): string | null
  planned: PlannedStop | null
  onLetGo(): void
  /** Puts the tree elsewhere on the map; absent for who may not. */
  onMove?: () => void
}

/** One tree beside the map: what decides first, the drawing, the reasons. */
export function TreeLeaf(props: TreeLeafProps) {
  const { treeId, onLetGo } = props
  const tree = useTree(treeId)
  const exposure = useTreeExposure(treeId)
  return (
    <Leaf label="The tree chosen" onClose={onLetGo}>
      {tree.data ? (
        <TreeWords
          {...props}
          whole={tree.data}
          exposure={exposure.data ?? null}
          exposureError={exposure.error}
        />
      ) : tree.error ? (
        <ErrorNote
          title="This tree cannot be shown."
          error={tree.error}
          action={<Button onPress={onLetGo}>Let go</Button>}
        />
      ) : (
        <Loading>Fetching the tree.</Loading>
      )}
    </Leaf>
  )
}

type Filled = TreeLeafProps & { whole: TreeWhole; exposure: TreeExposureView | null; exposureError: unknown }

function TreeWords({ whole, exposure, exposureError, today, squareOf, planned, onLetGo, onMove }: Filled) {
  const { tree } = whole
  const square = squareOf(tree.position[0], tree.position[1])
  const nearest = exposure?.zones.find((z) => z.name === whole.rating?.worst.targetName) ?? exposure?.zones[0]
  return (
    <>
      <div className="row">
        <h1>
          <span className="tag">{tree.tag}</span>
          {tree.commonName ?? tree.species}
        </h1>
        <Button kind="quiet" className="line-press sp" onPress={onLetGo}>
          Let go
        </Button>
      </div>
      <div className="row">
        <span className="latin">{tree.commonName ? tree.species : ''}</span>
        <span className="sp s q">{square ? `square ${square}` : 'outside the squares'}</span>
      </div>
      <div className="leaf-portrait">
        <TreePortrait
          tree={portraitTree(tree)}
          findings={findingsOf(whole.visits)}
          target={
            nearest?.geometry ? targetOf(tree.position, { ...nearest, geometry: nearest.geometry }) : null
          }
          small
          widthPx={312}
          maxHeightPx={176}
          seed={seedOf(tree.id)}
        />
      </div>
      <RatingWords whole={whole} />
      <DueBlock whole={whole} today={today} />
      {exposure ? <FallWords exposure={exposure} /> : null}
      {exposureError && !(exposureError instanceof Refused && exposureError.has('unknown')) ? (
        <p className="s q">Who is under it is not known now: {String((exposureError as Error).message)}</p>
      ) : null}
      <Presses treeId={tree.id} planned={planned} onMove={onMove} />
      <Standing small />
    </>
  )
}

function RatingWords({ whole }: { whole: TreeWhole }) {
  const { rating } = whole
  const worst = rating?.scenarios.find((s) => s.id === rating.worst.scenarioId)
  return (
    <div className="rate">
      <TreeMark
        risk={whole.risk}
        overdue={whole.overdueDays > 0}
        visited={whole.seen}
        status={whole.tree.status}
        boxPx={32}
        hidden
      />
      <div className="row">
        <span className="rate-word">
          {whole.risk ? capital(whole.risk) : whole.seen ? 'Rating not closed' : 'Never visited'}
        </span>
        {rating ? (
          <span className="q s sp">
            {rating.personName}, {sayDate(rating.ratedAt.slice(0, 10))}
          </span>
        ) : null}
      </div>
      <p>
        {worst?.description ??
          (whole.seen
            ? 'Seen; the rating waits to be closed.'
            : 'Known from a list only: nobody has looked at it yet.')}
      </p>
      {rating?.reopenedBecause ? <p className="s q rate-rest">Open again: {rating.reopenedBecause}</p> : null}
    </div>
  )
}

function DueBlock({ whole, today }: { whole: TreeWhole; today: CivilDate }) {
  const open = whole.works.find(
    (w) => w.dueOn === whole.due?.on && (w.state === 'proposed' || w.state === 'approved'),
  )
  const { heading, lines } = dueWords(whole.due, today, open?.description)
  return (
    <div className="rate">
      <span />
      <div className="rate-word">{heading}</div>
      {lines.map((line, i) => (
        <div key={line} className="s q rate-rest">
          {line}{' '}
          {i === 0 && whole.dueParts.length > 0 ? (
            <Reasons>
              {whole.dueParts.map((part) => (
                <span key={part.rule + part.words} className="reason">
                  {capital(part.words)}
                </span>
              ))}
            </Reasons>
          ) : null}
        </div>
      ))}
    </div>
  )
}

function FallWords({ exposure }: { exposure: TreeExposureView }) {
  const { people } = exposure.joint
  return (
    <div className="rate">
      <span />
      <div className="b">If it falls: {sayPeople(people.mean)} people within its outline</div>
      <div className="s q rate-rest">
        On average; {sayPeople(people.least)} to {sayPeople(people.most)} by what turns it.{' '}
        <Reasons>
          {exposure.zones.slice(0, 4).map((zone) => (
            <span key={zone.zoneId} className="reason">
              {zone.name}: {sayPeople(zone.people.mean)} people; {Math.round(zone.pTouch.mean * 100)} of 100
              falls touch it
            </span>
          ))}
          {exposure.zones.length === 0 ? (
            <span className="reason">
              No target zone lies within its reach of {exposure.reachM.toFixed(1)} m.
            </span>
          ) : null}
          {[...new Set(exposure.flags.map((f) => f.code))].map((code) => (
            <span key={code} className="reason">
              {exposureFlagSentences[code as ExposureFlagCode] ?? code}
            </span>
          ))}
        </Reasons>
      </div>
    </div>
  )
}

function Presses({
  treeId,
  planned,
  onMove,
}: {
  treeId: string
  planned: PlannedStop | null
  onMove?: () => void
}) {
  const { role } = usePerson()
  return (
    <div className="leaf-presses">
      <div className="row c wrap">
        {role === 'inspector' ? (
          <LinkButton kind="do" to={`/trees/${treeId}/visit`}>
            Start a visit
          </LinkButton>
        ) : planned ? (
          <LinkButton kind="do" to={`/rounds?tree=${treeId}`}>
            Move to another day
          </LinkButton>
        ) : null}
        <LinkButton kind={role !== 'inspector' && !planned ? 'do' : 'plain'} to={`/trees/${treeId}`}>
          Open the tree
        </LinkButton>
      </div>
      <div className="row s q leaf-round">
        <span>
          {planned
            ? `On crew ${planned.letter}’s round, ${sayDay(planned.date)}, ${sayOrdinal(planned.order)} stop.`
            : 'On no round yet.'}
        </span>
        {onMove ? (
          <Button kind="quiet" className="line-press sp" onPress={onMove}>
            Move it on the map
          </Button>
        ) : null}
      </div>
    </div>
  )
}

/** The same twigs each time for the same tree. */
const seedOf = (id: string) => Number.parseInt(id.replace(/\D/g, '').slice(0, 6) || '417', 10)
