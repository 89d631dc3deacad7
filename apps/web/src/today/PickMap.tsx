import type { Position } from '@underbough/model'
import { useMemo } from 'react'
import { useMapView, useTilesVersion } from '../api/index.ts'
import { Loading, useGround } from '../look/index.ts'
import { type Bounds, GroundMap, type MapTree, plainPicture } from '../map/index.ts'

/** Degrees of latitude shown to each side of the middle: some 150 m. */
const HALF_SPAN = 0.0014

export type Pick =
  | { what: 'place'; place: Position | null; onPick(place: Position): void }
  | { what: 'tree'; onPick(tree: MapTree): void }

/** The map around a place, to press a place or a tree on it. Fetched on its own; works from kept tiles. */
export default function PickMap({ around, pick }: { around: Position; pick: Pick }) {
  const ground = useGround()
  const view = useMapView()
  const version = useTilesVersion()
  const place = pick.what === 'place' ? pick.place : null
  const picture = useMemo(
    () =>
      version.data
        ? {
            ...plainPicture(ground, version.data),
            extra: place
              ? {
                  type: 'FeatureCollection' as const,
                  features: [
                    {
                      type: 'Feature' as const,
                      geometry: { type: 'Point' as const, coordinates: place },
                      properties: { kind: 'place' as const, label: 'new', firm: true },
                    },
                  ],
                }
              : null,
          }
        : null,
    [ground, version.data, place],
  )
  if (!picture || !view.data) return <Loading>Fetching the map.</Loading>
  const [lon, lat] = around
  const start: Bounds = [lon - HALF_SPAN, lat - HALF_SPAN, lon + HALF_SPAN, lat + HALF_SPAN]
  return (
    <div className="pick-map">
      <GroundMap
        label={pick.what === 'place' ? 'Press where the tree stands' : 'Press a tree'}
        ground={view.data.bounds}
        start={start}
        picture={picture}
        tool={pick.what === 'place' ? 'add-tree' : 'move'}
        onPickTree={(tree) => pick.what === 'tree' && pick.onPick(tree)}
        onDrawn={(_, geometry) => {
          if (pick.what === 'place' && geometry.type === 'Point')
            pick.onPick(geometry.coordinates.slice(0, 2) as Position)
        }}
        compact
      />
    </div>
  )
}
