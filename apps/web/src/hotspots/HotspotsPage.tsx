import { type ReactNode, useEffect, useMemo, useState } from 'react'
import { useSearchParams } from 'react-router'
import { type MapView, useMapView } from '../api/index.ts'
import { Button, Empty, ErrorNote, LinkButton, Loading, Plate, Standing, sayDate } from '../look/index.ts'
import { type Bounds, squaresOver } from '../map/index.ts'
import { ExpectedDesk } from './ExpectedDesk.tsx'
import { useEstimateShown } from './expected.ts'
import { HotspotTable } from './HotspotTable.tsx'
import { fileAddress, type HotspotList, type SpotQuestion, useHotspots } from './hooks.ts'
import { MapColumn } from './MapColumn.tsx'
import { Narrowing } from './Narrowing.tsx'
import { asksExpected, questionOf, wordsOf } from './question.ts'
import { axisOf, sayName } from './ranking.ts'
import { Since } from './Since.tsx'
import { SpotTrees } from './SpotTrees.tsx'
import '../ground/ground.css'
import './hotspots.css'

const FIRST = 8
const FETCHED = 50

/** Where falls would meet people: zones and cells on a list and on the map, in step. */
export default function HotspotsPage() {
  const [words, setWords] = useSearchParams()
  const asked = questionOf(words)
  const [view, setView] = useState<Bounds | null>(null)
  const [onlyHere, setOnlyHere] = useState(false)
  const within = useSettled(onlyHere ? view : null)
  const question: SpotQuestion = { ...asked, within }
  const found = useHotspots(question, FETCHED)
  const ground = useMapView()
  const withExpected = useEstimateShown()
  const expected = asksExpected(words)
  if (found.error || ground.error)
    return (
      <div className="page">
        <ErrorNote
          title="The zones cannot be ranked."
          error={found.error ?? ground.error}
          action={
            <Button kind="do" onPress={() => Promise.all([found.refetch(), ground.refetch()])}>
              Try again
            </Button>
          }
        />
      </div>
    )
  if (!found.data || !ground.data || (expected && withExpected === null))
    return <Loading>Ranking the zones.</Loading>
  const order = expected && withExpected ? 'expected' : asked.basis
  const by: Record<string, string> = order === 'expected' ? { by: order } : {}
  const narrowing = (
    <Narrowing
      asked={asked}
      order={order}
      withExpected={withExpected === true}
      onlyHere={onlyHere}
      onAsk={(next, nextOrder) =>
        setWords(
          { ...wordsOf(next), ...(nextOrder === 'expected' ? { by: nextOrder } : {}) },
          { replace: true },
        )
      }
      onOnlyHere={setOnlyHere}
    />
  )
  const choose = (id: string) => setWords({ ...wordsOf(asked), ...by, spot: id }, { replace: true })
  if (order === 'expected')
    return (
      <ExpectedDesk
        asked={asked}
        ground={ground.data}
        chosenId={words.get('spot')}
        narrowing={narrowing}
        onChoose={choose}
        onView={setView}
      />
    )
  const open = Object.keys(wordsOf(asked)).length === 0 && !onlyHere
  if (found.data.total === 0 && open && !found.data.behind)
    return (
      <div className="page">
        <h1>Where falls would meet people</h1>
        <Empty
          title="No fall meets a zone yet."
          action={
            <LinkButton to="/ground" kind="do">
              Draw a target zone
            </LinkButton>
          }
        >
          Zones that people use and trees that reach them are ranked here.
        </Empty>
      </div>
    )
  return (
    <Desk
      list={found.data}
      question={question}
      ground={ground.data}
      chosenId={words.get('spot')}
      onlyHere={onlyHere}
      narrowing={narrowing}
      onChoose={choose}
      onView={setView}
    />
  )
}

/** A value once it has stood still for a moment, so that a moving map does not ask at every step. */
function useSettled<T>(value: T): T {
  const [settled, setSettled] = useState(value)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), 250)
    return () => clearTimeout(timer)
  }, [value])
  return settled
}

interface DeskProps {
  list: HotspotList
  question: SpotQuestion
  ground: MapView
  chosenId: string | null
  onlyHere: boolean
  narrowing: ReactNode
  onChoose(id: string): void
  onView(bounds: Bounds): void
}
function Desk({ list, question, ground, chosenId, onlyHere, narrowing, onChoose, onView }: DeskProps) {
  const [overId, setOver] = useState<string | null>(null)
  const [all, setAll] = useState(false)
  const { spots, total, computedAt, behind } = list
  const squares = useMemo(() => squaresOver(ground.bounds), [ground.bounds])
  const axis = useMemo(() => axisOf(spots), [spots])
  const chosen = spots.find((spot) => spot.id === chosenId) ?? spots[0] ?? null
  const first = spots.slice(0, FIRST)
  // A place chosen on the map joins the list, so that list and map stay in step.
  const listed = all || !chosen ? spots : first.includes(chosen) ? first : [...first, chosen]
  const { of, basis } = question
  return (
    <div className="hotspots">
      <MapColumn
        of={of === 'zones' ? 'zone' : 'cell'}
        bounds={ground.bounds}
        spots={spots}
        listed={listed}
        chosen={chosen}
        overId={overId}
        goes={chosenId !== null && !onlyHere}
        onChoose={onChoose}
        onOver={setOver}
        onView={onView}
      />
      <aside className="hotspots-side" aria-label="The places in order">
        <Plate
          title={of === 'zones' ? 'Zones by what hangs over them' : 'Cells by what stands in them'}
          aside={computedAt ? `reckoned ${sayDate(computedAt.slice(0, 10), true)}` : null}
        >
          {narrowing}
          {behind ? (
            <p className="s" role="status">
              Many figures have just changed and are still being ranked; this list renews itself.
            </p>
          ) : null}
          {spots.length === 0 ? (
            <p className="q hotspot-none">Nothing here has people under a fall by this reckoning.</p>
          ) : (
            <HotspotTable
              spots={listed}
              basis={basis}
              axis={axis}
              squares={squares}
              chosenId={chosen?.id ?? null}
              overId={overId}
              onChoose={onChoose}
              onOver={setOver}
            />
          )}
          <div className="row c wrap hotspot-presses">
            {spots.length > FIRST ? (
              <Button kind="quiet" onPress={() => setAll(!all)}>
                {all
                  ? `Only the first ${FIRST}`
                  : total <= FETCHED
                    ? `All ${total}`
                    : `The first ${FETCHED} of ${total.toLocaleString('en-GB')}`}
              </Button>
            ) : null}
            <LinkButton className="sp" to={`/hotspots/paper?${new URLSearchParams(wordsOf(question))}`}>
              For paper
            </LinkButton>
            <a className="press press-plain" href={fileAddress(question, 'csv')} download>
              CSV
            </a>
            <a className="press press-plain" href={fileAddress(question, 'geojson')} download>
              GeoJSON
            </a>
          </div>
          <p className="s q prose">{explained(question)}</p>
        </Plate>
        {chosen ? <SpotTrees spot={chosen} basis={basis} name={sayName(chosen, squares)} /> : null}
        <Since list={list} basis={basis} today={ground.today} squares={squares} />
        <Standing />
      </aside>
    </div>
  )
}

const explained = ({ of, basis }: SpotQuestion) =>
  `${
    of === 'cells'
      ? 'A cell is a square of about a hundred metres; the figure of a tree in it is over all zones it may meet. '
      : ''
  }Under a name stands ${
    basis === 'one' ? 'the tree that bears most' : 'its worst rated tree'
  }, and how many more ${of === 'cells' ? 'in' : 'over'} it are rated moderate or more. Each bar runs from the least to the most over what may turn the fall of the tree that bears most; the gap is the mean. It says who would be under a fall, not whether one comes.${
    basis === 'rated'
      ? ' The sum adds trees as if each fell once; it is for ranking, not a number of people.'
      : ''
  }`
