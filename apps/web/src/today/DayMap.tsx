import { useMemo } from 'react'
import { type Stop, useMapView, useTilesVersion } from '../api/index.ts'
import { Loading, riskRank, useGround } from '../look/index.ts'
import { boundsOf, GroundMap, plainPicture } from '../map/index.ts'
import type { Filled } from './dayHere.ts'
import type { Whereabouts } from './useFix.ts'

/** The way on the map. Fetched on its own, after the list can be used. */
export default function DayMap({
  whole,
  now,
  whereabouts,
}: {
  whole: Filled
  now: Stop | null
  whereabouts: Whereabouts
}) {
  const ground = useGround()
  const view = useMapView()
  const version = useTilesVersion()
  const { daySheet, crew } = whole
  const places = useMemo(() => daySheet.stops.map((stop) => stop.tree.position), [daySheet])
  const me = whereabouts.state === 'here' ? whereabouts.fix.position : null
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
                  risk: riskRank(stop.tree.risk),
                })),
              },
            ],
            extra: me
              ? {
                  type: 'FeatureCollection' as const,
                  features: [
                    {
                      type: 'Feature' as const,
                      geometry: { type: 'Point' as const, coordinates: me },
                      properties: { kind: 'place' as const, label: 'you' },
                    },
                  ],
                }
              : null,
            selectedTree: now
              ? {
                  id: now.tree.id,
                  position: now.tree.position,
                  risk: riskRank(now.tree.risk),
                  overdue: now.tree.overdueDays > 0,
                  seen: now.tree.seen,
                  status: now.tree.status,
                }
              : null,
          }
        : null,
    [ground, version.data, daySheet, crew, places, now, me],
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
