import { RouteStrip } from '@underbough/pictures'
import { useMemo, useState } from 'react'
import { useNavigate } from 'react-router'
import {
  refusalsOf,
  type Stop,
  type TodayWhole,
  useEndStop,
  useMapView,
  useTilesVersion,
  useToday,
} from '../api/index.ts'
import {
  Button,
  count,
  Dialog,
  Empty,
  ErrorNote,
  Field,
  Loading,
  Refusals,
  sayDate,
  sayDay,
  useGround,
} from '../look/index.ts'
import { boundsOf, GroundMap, plainPicture } from '../map/index.ts'
import { ActionBar } from '../shell/index.ts'
import { clock, hasEndedStop, nextStop, routeStops, sayStop, sayWay } from './facts.ts'
import './today.css'

/** The crew's day: the way in order, the next stop large, one action at the thumb. */
export default function TodayPage() {
  const [date, setDate] = useState<string | null>(null)
  const today = useToday(date)
  if (!today.data)
    return today.error ? (
      <div className="page">
        <ErrorNote
          title="The day cannot be shown."
          error={today.error}
          action={<Button onPress={() => today.refetch()}>Try again</Button>}
        />
      </div>
    ) : (
      <Loading>Fetching the day.</Loading>
    )
  const { daySheet, nextDate } = today.data
  if (!daySheet)
    return (
      <div className="page">
        <h1>{sayDate(today.data.date)}</h1>
        <Empty
          title="No day has been sent to you for this date."
          action={
            nextDate ? (
              <Button kind="do" onPress={() => setDate(nextDate)}>{`See ${sayDay(nextDate)}`}</Button>
            ) : undefined
          }
        >
          The trees of your round stand here once the office has sent the day.
        </Empty>
      </div>
    )
  return <Day whole={today.data as Filled} />
}

type Filled = TodayWhole & {
  daySheet: NonNullable<TodayWhole['daySheet']>
  crew: NonNullable<TodayWhole['crew']>
}

function Day({ whole }: { whole: Filled }) {
  const { daySheet, crew, date } = whole
  const go = useNavigate()
  const [chosen, setChosen] = useState<string | null>(null)
  const [map, setMap] = useState(false)
  const [skipping, setSkipping] = useState<Stop | null>(null)
  const now = nextStop(daySheet.stops, chosen)
  const done = daySheet.stops.filter(hasEndedStop).length
  const press = (stop: { id: string; state: string }) => ({
    onClick: () => stop.state !== 'done' && setChosen(stop.id),
  })
  return (
    <div className="today">
      <div className="today-head">
        <div>
          <p className="q">{`${crew.name}, ${sayDay(date)}`}</p>
          <h1>{`${count(daySheet.stops.length, 'tree')}, ${sayWay(daySheet.travelM)}`}</h1>
        </div>
        <p className="today-done">
          <span className="q">done</span>
          <b>{done}</b>
        </p>
      </div>
      <div className="today-body">
        <section className={map ? 'today-way today-away' : 'today-way'} aria-label="The way, stop by stop">
          <RouteStrip
            letter={crew.letter}
            stops={routeStops(daySheet, now)}
            after={`back by ${clock(daySheet.endMinute)}`}
            press={press}
          />
          <ol className="today-list">
            {daySheet.stops.map((stop) => (
              <li key={stop.id}>
                <Button kind="quiet" isDisabled={hasEndedStop(stop)} onPress={() => setChosen(stop.id)}>
                  {`${stop.tree.tag} ${stop.tree.commonName ?? stop.tree.species}: ${sayStop(stop)}`}
                </Button>
              </li>
            ))}
          </ol>
        </section>
        <section className={map ? 'today-map' : 'today-map today-away'} aria-label="The way on the map">
          <DayMap whole={whole} now={now} />
        </section>
      </div>
      <ActionBar>
        <Button className="today-swap" onPress={() => setMap(!map)}>
          {map ? 'Way' : 'Map'}
        </Button>
        {now ? (
          <>
            <Button onPress={() => setSkipping(now)}>Skip</Button>
            <Button
              kind="do"
              className="today-start"
              onPress={() => go(`/trees/${now.tree.id}/visit?stop=${now.id}`)}
            >
              {`Start at ${now.tree.tag}`}
            </Button>
          </>
        ) : (
          <p className="today-over">All stops of this day have an end.</p>
        )}
      </ActionBar>
      {skipping ? <SkipDialog stop={skipping} onClose={() => setSkipping(null)} /> : null}
    </div>
  )
}

function DayMap({ whole, now }: { whole: Filled; now: Stop | null }) {
  const ground = useGround()
  const view = useMapView()
  const version = useTilesVersion()
  const { daySheet, crew } = whole
  const places = useMemo(() => daySheet.stops.map((stop) => stop.tree.position), [daySheet])
  const picture = useMemo(
    () =>
      version.data
        ? {
            ...plainPicture(ground, version.data),
            filter: { ids: daySheet.stops.map((stop) => stop.tree.id) },
            routes: [
              {
                letter: crew.letter,
                line: [crew.start, ...places, crew.end],
                stops: daySheet.stops.map((stop) => ({
                  position: stop.tree.position,
                  order: stop.order,
                  risk: 0,
                })),
              },
            ],
            selectedTree: now
              ? {
                  id: now.tree.id,
                  position: now.tree.position,
                  risk: 0,
                  overdue: now.tree.overdueDays > 0,
                  seen: now.tree.seen,
                  status: now.tree.status,
                }
              : null,
          }
        : null,
    [ground, version.data, daySheet, crew, places, now],
  )
  if (!picture || !view.data) return <Loading>Fetching the map.</Loading>
  return (
    <GroundMap
      label={`The way of ${crew.name}; the same stops stand in the list`}
      ground={view.data.bounds}
      start={boundsOf({ type: 'MultiPoint', coordinates: places as [number, number][] }) ?? view.data.bounds}
      picture={picture}
      compact
    />
  )
}

function SkipDialog({ stop, onClose }: { stop: Stop; onClose(): void }) {
  const [reason, setReason] = useState('')
  const end = useEndStop()
  return (
    <Dialog
      title={`Skip ${stop.tree.tag} ${stop.tree.commonName ?? stop.tree.species}`}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={reason.trim() === '' || end.isPending}
            onPress={() =>
              end.mutate(
                { id: stop.id, visitId: null, skippedBecause: reason.trim() },
                { onSuccess: onClose },
              )
            }
          >
            Skip this stop
          </Button>
          <Button onPress={onClose}>Keep it</Button>
        </>
      }
    >
      <p>Its due date stays as it is; the office sees the reason.</p>
      <Field label="Why it is skipped" value={reason} onChange={setReason} autoFocus isRequired />
      <Refusals
        title="The stop was not skipped."
        refusals={refusalsOf(end.error)}
        kept="It stands on the day as before."
      />
    </Dialog>
  )
}
