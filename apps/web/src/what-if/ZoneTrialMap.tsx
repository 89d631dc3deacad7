import type { AreaGeometry, Zone } from '@underbough/model'
import type { Feature, Geometry } from 'geojson'
import { useMemo } from 'react'
import { useGroundFeatures, useTilesVersion } from '../api/index.ts'
import { useGround } from '../look/index.ts'
import { type Bounds, boundsOf, type ExtraFeature, GroundMap, plainPicture } from '../map/index.ts'
import type { Row } from './trial.ts'

const noVersion = { trees: '', ground: '' }
const NAMED = 4

const extra = (geometry: Geometry, properties: ExtraFeature): Feature<Geometry, ExtraFeature> => ({
  type: 'Feature',
  geometry,
  properties,
})

/** The zone where it stands and where it would be; in hand while it is being moved. */
export function ZoneTrialMap({
  bounds,
  zone,
  changed,
  carries,
  rows,
  onCarried,
  onRefused,
}: {
  bounds: Bounds
  zone: Zone
  changed: Zone
  carries: boolean
  rows: readonly Row[]
  onCarried(geometry: AreaGeometry): void
  onRefused(sentence: string): void
}) {
  const ground = useGround()
  const version = useTilesVersion()
  const features = useGroundFeatures(bounds)
  const known = version.data ?? (version.error ? noVersion : null)
  const start = useMemo(() => {
    const box = boundsOf(zone.geometry as Geometry) ?? bounds
    const margin = 0.0004
    return [box[0] - margin, box[1] - margin, box[2] + margin, box[3] + margin] as Bounds
  }, [zone, bounds])
  const moved = carries && changed.geometry !== zone.geometry
  const picture = useMemo(
    () => ({
      ...plainPicture(ground, known ?? noVersion),
      dotsOnly: true,
      selectedZoneId: moved ? null : zone.id,
      features: features.data ?? null,
      extra: {
        type: 'FeatureCollection' as const,
        features: [
          ...(moved
            ? [
                extra(zone.geometry as Geometry, { kind: 'was', label: '' }),
                extra(changed.geometry as Geometry, { kind: 'would', label: '' }),
              ]
            : []),
          ...rows
            .slice(0, NAMED)
            .map(({ tree }) =>
              extra({ type: 'Point', coordinates: [...tree.position] }, { kind: 'place', label: tree.tag }),
            ),
        ],
      },
    }),
    [ground, known, zone, changed, moved, rows, features.data],
  )
  const held = useMemo(
    (): Feature | undefined =>
      carries ? { type: 'Feature', properties: {}, geometry: changed.geometry as Geometry } : undefined,
    [carries, changed],
  )
  return (
    <div className="hotspots-frame">
      {known ? (
        <GroundMap
          label="Map with the zone as it stands and as it would be. How far and which way can be typed beside it."
          ground={bounds}
          start={start}
          picture={picture}
          tool={carries ? 'carry-zone' : 'move'}
          held={held}
          onDrawn={(tool, geometry) => tool === 'carry-zone' && onCarried(geometry as AreaGeometry)}
          onRefused={(_, sentence) => onRefused(sentence)}
        />
      ) : null}
    </div>
  )
}
