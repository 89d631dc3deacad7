import { CrewLineSample } from '@underbough/pictures'
import { useMemo, useState } from 'react'
import { Link } from 'react-router'
import { type Crew, refusalsOf, useMapView, usePublish, useTilesVersion } from '../api/index.ts'
import { Button, Dialog, Loading, Notice, Refusals, riskRank, sayDay, useGround } from '../look/index.ts'
import { boundsOf, GroundMap, plainPicture } from '../map/index.ts'
import { clock, sayWay } from '../today/facts.ts'
import type { BoardDay } from './Board.tsx'

interface DayLeafProps {
  planId: string
  day: BoardDay
  crews: readonly Crew[]
  onAgain(): void
}

/** One day of the plan: its rounds on the map, its figures, and the buttons that send it. */
export function DayLeaf({ planId, day, crews, onAgain }: DayLeafProps) {
  const publish = usePublish()
  const [all, setAll] = useState(false)
  const sheets = [...day.byCrew.values()]
  const sent = sheets.every((sheet) => sheet.publishedAt !== null)
  return (
    <aside className="day-leaf" aria-label={`${sayDay(day.date)} on the map`}>
      <div className="row">
        <h2>{sayDay(day.date)}</h2>
        <span className="sp s q">all crews</span>
      </div>
      <div className="day-map">
        <DayMap day={day} crews={crews} />
      </div>
      <table className="day-figures">
        <thead>
          <tr>
            <th>Crew</th>
            <th className="n">Stops</th>
            <th className="n">Way</th>
            <th className="n">At trees</th>
            <th className="n">Back by</th>
          </tr>
        </thead>
        <tbody>
          {crews.map((crew) => {
            const sheet = day.byCrew.get(crew.id)
            return (
              <tr key={crew.id}>
                <td>
                  <span className="row c">
                    <CrewLineSample letter={crew.letter} /> {crew.letter}
                  </span>
                </td>
                <td className="n">{sheet?.stops.length ?? 0}</td>
                <td className="n">{sheet ? sayWay(sheet.travelM) : ''}</td>
                <td className="n">{sheet ? `${(sheet.serviceMinutes / 60).toFixed(1)} h` : ''}</td>
                <td className="n">{sheet ? clock(sheet.endMinute) : ''}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
      <div className="row wrap day-presses">
        {sent ? (
          <Notice tone="kept" title="Sent.">
            The crews open this day under Today.
          </Notice>
        ) : (
          <Button
            kind="do"
            isDisabled={publish.isPending}
            onPress={() => publish.mutate({ id: planId, dates: [day.date] })}
          >
            {`Send ${sayDay(day.date)} to the crews`}
          </Button>
        )}
        <Button onPress={() => setAll(true)}>Send all days</Button>
        <Button onPress={onAgain}>Plan again</Button>
      </div>
      <Refusals
        title="Nothing was sent."
        refusals={refusalsOf(publish.error)}
        kept="The plan is kept as it was."
      />
      <StopList day={day} crews={crews} />
      <Dialog
        title="Send all days to the crews"
        isOpen={all}
        onClose={() => setAll(false)}
        actions={
          <>
            <Button
              kind="do"
              onPress={() => publish.mutate({ id: planId, dates: null }, { onSettled: () => setAll(false) })}
            >
              Send all days
            </Button>
            <Button onPress={() => setAll(false)}>Not yet</Button>
          </>
        }
      >
        <p>Days that are sent stay as they are: another plan works around them.</p>
      </Dialog>
    </aside>
  )
}

function StopList({ day, crews }: { day: BoardDay; crews: readonly Crew[] }) {
  return (
    <>
      {crews.map((crew) => {
        const sheet = day.byCrew.get(crew.id)
        if (!sheet) return null
        return (
          <details key={crew.id} className="stop-list">
            <summary>{`${crew.name}, stop by stop`}</summary>
            <ol>
              {sheet.stops.map((stop) => (
                <li key={stop.id}>
                  <span className="t">{clock(stop.arriveMinute)}</span>
                  <Link
                    to={`/trees/${stop.tree.id}`}
                  >{`${crew.letter}${stop.order}  ${stop.tree.tag} ${stop.tree.commonName ?? stop.tree.species}`}</Link>
                  <span className="q s">{stop.tree.risk ?? 'not yet rated'}</span>
                </li>
              ))}
            </ol>
          </details>
        )
      })}
    </>
  )
}

function DayMap({ day, crews }: { day: BoardDay; crews: readonly Crew[] }) {
  const ground = useGround()
  const view = useMapView()
  const version = useTilesVersion()
  const picture = useMemo(() => {
    if (!version.data) return null
    const sheets = crews.flatMap((crew) => {
      const sheet = day.byCrew.get(crew.id)
      return sheet ? [{ crew, sheet }] : []
    })
    return {
      ...plainPicture(ground, version.data),
      markScale: 0.7,
      filter: { ids: sheets.flatMap(({ sheet }) => sheet.stops.map((stop) => stop.tree.id)) },
      routes: sheets.map(({ crew, sheet }) => ({
        letter: crew.letter,
        line: [crew.start, ...sheet.stops.map((stop) => stop.tree.position), crew.end],
        stops: sheet.stops.map((stop) => ({
          position: stop.tree.position,
          order: stop.order,
          risk: riskRank(stop.tree.risk),
        })),
      })),
    }
  }, [ground, version.data, day, crews])
  if (!picture || !view.data) return <Loading>Fetching the map.</Loading>
  const places = picture.routes.flatMap((route) =>
    route.stops.map((stop) => stop.position as [number, number]),
  )
  const start = boundsOf({ type: 'MultiPoint', coordinates: places }) ?? view.data.bounds
  return (
    <GroundMap
      key={day.date}
      label={`Rounds of ${sayDay(day.date)}; the same stops stand in the lists below`}
      ground={view.data.bounds}
      start={start}
      picture={picture}
    />
  )
}
