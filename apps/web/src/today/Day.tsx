import { lazy, Suspense, useEffect, useMemo, useState } from 'react'
import { Link, useNavigate } from 'react-router'
import type { Stop } from '../api/index.ts'
import { Button, count, KeepingState, Loading, sayDay } from '../look/index.ts'
import { DaysAhead, PackLine } from '../pack/index.ts'
import { ActionBar, usePerson } from '../shell/index.ts'
import type { Here } from './dayHere.ts'
import { daylightOf, lightEndsMinute } from './daylight.ts'
import { clock, hasEndedStop, nextStop, sayWay } from './facts.ts'
import { NextStop } from './NextStop.tsx'
import { SkipDialog } from './SkipDialog.tsx'
import { StopList } from './StopList.tsx'
import { useFix } from './useFix.ts'
import { awakeWish, useWakeLock, wishAwake } from './useWakeLock.ts'

const ChangeDialog = lazy(() => import('./ChangeDialog.tsx'))
const DayMap = lazy(() => import('./DayMap.tsx'))

/** One day of a crew, as this device knows it. */
export function Day({ here }: { here: Here }) {
  const { daySheet, crew, date } = here.whole
  const { organisation } = usePerson()
  const go = useNavigate()
  const [chosen, setChosen] = useState<string | null>(null)
  const [map, setMap] = useState(false)
  const [skipping, setSkipping] = useState<Stop | null>(null)
  const [changing, setChanging] = useState(false)
  const [awake, setAwake] = useState(awakeWish)
  const wake = useWakeLock(awake)
  const position = useFix()
  const now = nextStop(daySheet.stops, chosen)
  const place = now?.tree.position ?? daySheet.stops[0]?.tree.position ?? crew.start
  const light = useMemo(() => daylightOf(date, place), [date, place])
  const lightMinute = lightEndsMinute(light, organisation.timeZone)
  const done = daySheet.stops.filter(hasEndedStop).length
  const wide = useListFirst()
  return (
    <div className="today">
      <div className="today-head">
        <div>
          <p className="q">{`${crew.name}, ${sayDay(date)}`}</p>
          <h1>{`${count(daySheet.stops.length, 'tree')}, ${sayWay(daySheet.travelM)}`}</h1>
          <p className="q">
            {[sayLight(light.all, lightMinute), `back by ${clock(daySheet.endMinute)}`].join('; ')}
          </p>
          {here.orderWaits ? (
            <p>
              <KeepingState keeping="on-this-phone">Changes to the day: on this phone</KeepingState>
            </p>
          ) : null}
          {here.orderRefused ? (
            <Link className="strip-refused" to="/waiting">
              The office did not take an order of this day: see why
            </Link>
          ) : null}
        </div>
        <p className="today-done">
          <span className="q">done</span>
          <b>{done}</b>
        </p>
      </div>
      <div className="today-body">
        <section
          className={map ? 'today-way today-away' : 'today-way'}
          aria-label="The way, stop by stop"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a day that is done has no press in it, and must still scroll without a mouse (WCAG 2.1.1)
          tabIndex={0}
        >
          <PackLine date={date} />
          {now ? <NextStop key={now.id} stop={now} position={position} lightMinute={lightMinute} /> : null}
          <StopList here={here} now={now} lightMinute={lightMinute} onChoose={setChosen} />
          <DaysAhead />
        </section>
        <section className={map ? 'today-map' : 'today-map today-away'} aria-label="The way on the map">
          {map || wide ? (
            <Suspense fallback={<Loading>Fetching the map.</Loading>}>
              <DayMap whole={here.whole} now={now} whereabouts={position.whereabouts} />
            </Suspense>
          ) : null}
        </section>
      </div>
      <ActionBar>
        <Button className="today-swap" onPress={() => setMap(!map)}>
          {map ? 'Way' : 'Map'}
        </Button>
        <Button onPress={() => setChanging(true)}>Change</Button>
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
      {changing ? (
        <Suspense>
          <ChangeDialog
            here={here}
            position={position}
            wake={{
              on: awake,
              state: wake,
              set: (on) => {
                wishAwake(on)
                setAwake(on)
              },
            }}
            onClose={() => setChanging(false)}
          />
        </Suspense>
      ) : null}
    </div>
  )
}

function sayLight(all: 'day' | 'night' | null, minute: number | null): string {
  if (all === 'day') return 'Light all day'
  if (all === 'night') return 'No sun this day'
  return minute === null ? 'Light into the night' : `Light until ${clock(minute)}`
}

/** True once the list stands and there is room for the map beside it: the map's code is fetched after what one cannot do without. */
function useListFirst(): boolean {
  const [wide, setWide] = useState(false)
  useEffect(() => {
    const query = window.matchMedia('(min-width: 900px)')
    const look = () => setWide(query.matches)
    const timer = setTimeout(look, 0)
    query.addEventListener('change', look)
    return () => {
      clearTimeout(timer)
      query.removeEventListener('change', look)
    }
  }, [])
  return wide
}
