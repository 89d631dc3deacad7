import { useEffect, useMemo, useRef, useState } from 'react'
import { useGroundFeatures, useTilesVersion } from '../api/index.ts'
import { useGround } from '../look/index.ts'
import { type Bounds, boundsOf, GroundMap, type MapPort, plainPicture } from '../map/index.ts'
import type { Numbered } from './hooks.ts'

const noVersion = { trees: '', ground: '' }
const CLOSE_ZOOM = 17.4

interface SpotMapProps {
  bounds: Bounds
  spots: readonly Numbered[]
  chosen: Numbered | null
  overId: string | null
  /** A person chose the spot, so the map goes there; at first it shows the whole list. */
  goes: boolean
  onChoose(id: string): void
  onOver(id: string | null): void
  onView(bounds: Bounds): void
}

/** The map with a number on each spot of the list. */
export function SpotMap({ bounds, spots, chosen, overId, goes, onChoose, onOver, onView }: SpotMapProps) {
  const ground = useGround()
  const version = useTilesVersion()
  const features = useGroundFeatures(bounds)
  const port = useRef<MapPort | null>(null)
  const [ready, setReady] = useState(false)
  const place = chosen?.place ?? null
  // biome-ignore lint/correctness/useExhaustiveDependencies: where to look first is settled by the first list
  const start = useMemo(() => aroundSpots(spots, bounds), [])
  // biome-ignore lint/correctness/useExhaustiveDependencies: goes to a spot when it is chosen, not when the list is fetched anew
  useEffect(() => {
    if (ready && goes && place) port.current?.goTo(place, CLOSE_ZOOM)
  }, [ready, goes, chosen?.id])
  const known = version.data ?? (version.error ? noVersion : null)
  const chosenId = chosen?.id ?? null
  const picture = useMemo(
    () => ({
      ...plainPicture(ground, known ?? noVersion),
      dotsOnly: true,
      selectedZoneId: chosen?.zone?.id ?? null,
      features: features.data ?? null,
      extra: {
        type: 'FeatureCollection' as const,
        features: spots.flatMap((spot) => {
          const firm = spot.id === chosenId || spot.id === overId
          const number = {
            type: 'Feature' as const,
            geometry: { type: 'Point' as const, coordinates: spot.place },
            properties: { kind: 'zone-number' as const, label: String(spot.rank), firm },
          }
          if (!spot.cell) return [number]
          const area = {
            type: 'Feature' as const,
            geometry: { type: 'Polygon' as const, coordinates: [spot.cell.ring] },
            properties: { kind: 'cell' as const, label: spot.id, firm },
          }
          return [area, number]
        }),
      },
    }),
    [ground, known, spots, chosen, chosenId, overId, features.data],
  )
  return (
    <div className="hotspots-frame">
      {known ? (
        <GroundMap
          label="Map with a number on each place of the list. The list beside it says the same in words."
          ground={bounds}
          start={start}
          picture={picture}
          onIdle={(engine) => {
            port.current = engine
            setReady(true)
          }}
          onView={(view) => onView(view.bounds)}
          onPickZone={(zone) => onChoose(zone.id)}
          onPickArea={onChoose}
          onOver={(over) => onOver(over?.area ?? over?.zoneId ?? null)}
        />
      ) : null}
    </div>
  )
}

/** The numbered places with a margin, so that the first look shows them all. */
function aroundSpots(spots: readonly Numbered[], ground: Bounds): Bounds {
  const box = boundsOf({ type: 'MultiPoint', coordinates: spots.map((spot) => [...spot.place]) })
  if (!box) return ground
  const margin = 0.0008
  return [box[0] - margin, box[1] - margin, box[2] + margin, box[3] + margin]
}
