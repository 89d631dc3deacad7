import { zoneKinds } from '@underbough/model'
import { ZoneSwatch, zoneNames } from '@underbough/pictures'
import { useEffect, useMemo, useRef, useState } from 'react'
import { useSearchParams } from 'react-router'
import { useGroundFeatures, useMapView, useTilesVersion } from '../api/index.ts'
import {
  Button,
  Empty,
  ErrorNote,
  LinkButton,
  Loading,
  Plate,
  Standing,
  sayDate,
  useGround,
  Words,
} from '../look/index.ts'
import { type Bounds, boundsOf, GroundMap, type MapPort, plainPicture } from '../map/index.ts'
import { HotspotTable } from './HotspotTable.tsx'
import { useHotspots } from './hooks.ts'
import { axisOf, type Basis, ranked } from './ranking.ts'
import { ZoneTrees } from './ZoneTrees.tsx'
import '../ground/ground.css'
import './hotspots.css'

const LISTED = 8
const noVersion = { trees: '', ground: '' }
const CLOSE_ZOOM = 17.4

/** Where falls would meet people: zones on a list and on the map, in step. */
export default function HotspotsPage() {
  const found = useHotspots()
  const view = useMapView()
  if (found.error || view.error)
    return (
      <div className="page">
        <ErrorNote
          title="The zones cannot be ranked."
          error={found.error ?? view.error}
          action={
            <Button kind="do" onPress={() => Promise.all([found.refetch(), view.refetch()])}>
              Try again
            </Button>
          }
        />
      </div>
    )
  if (!found.data || !view.data) return <Loading>Ranking the zones.</Loading>
  return (
    <div className="hotspots-page">
      {found.data.zones.length === 0 ? (
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
      ) : (
        <Desk zones={found.data.zones} computedAt={found.data.computedAt} bounds={view.data.bounds} />
      )}
    </div>
  )
}

interface DeskProps {
  zones: Parameters<typeof ranked>[0]
  computedAt: string | null
  bounds: Bounds
}
function Desk({ zones, computedAt, bounds }: DeskProps) {
  const [words, setWords] = useSearchParams()
  const [basis, setBasis] = useState<Basis>('one')
  const [all, setAll] = useState(false)
  const order = useMemo(() => ranked(zones, basis), [zones, basis])
  const axis = useMemo(() => axisOf(zones), [zones])
  const asked = words.get('zone')
  const chosen = order.find((spot) => spot.zone.id === asked) ?? order[0] ?? null
  const first = order.slice(0, LISTED)
  // A zone chosen on the map joins the list, so that list and map stay in step.
  const listed = all ? order : chosen && !first.includes(chosen) ? [...first, chosen] : first
  const choose = (id: string) => setWords({ zone: id }, { replace: true })
  return (
    <div className="hotspots">
      <div className="hotspots-map">
        <h1>Where falls would meet people</h1>
        <p className="prose q">
          Each number stands on its zone of the list. Dots are trees; a press on a zone or a row goes there.
        </p>
        <NumberedMap
          bounds={bounds}
          spots={listed}
          chosenId={chosen?.zone.id ?? null}
          goes={asked !== null}
          onChoose={(id) => order.some((spot) => spot.zone.id === id) && choose(id)}
        />
        <ul className="key" aria-label="Key to the map">
          {zoneKinds.map((kind) => (
            <li key={kind}>
              <ZoneSwatch kind={kind} widthPx={24} heightPx={14} hidden /> &nbsp;{zoneNames[kind]}
            </li>
          ))}
        </ul>
      </div>
      <aside className="hotspots-side" aria-label="The zones in order">
        <Plate
          title="Zones by people under a fall"
          aside={computedAt ? `reckoned ${sayDate(computedAt.slice(0, 10), true)}` : null}
        >
          <Words<Basis>
            label="Ranked by"
            value={basis}
            options={[
              { value: 'one', label: 'if the tree that bears most falls' },
              { value: 'rated', label: 'all trees rated moderate or more' },
            ]}
            onChange={setBasis}
          />
          <HotspotTable
            spots={listed}
            basis={basis}
            axis={axis}
            chosenId={chosen?.zone.id ?? null}
            onChoose={choose}
          />
          {order.length > LISTED ? (
            <Button kind="quiet" onPress={() => setAll(!all)}>
              {all ? `Only the first ${LISTED}` : `All ${order.length} zones`}
            </Button>
          ) : null}
          <p className="s q prose">
            Under a name stands its worst rated tree, and how many more over the zone are rated moderate or
            more. Each bar runs from the least to the most over what may turn the fall; the gap is the mean.
            It says who would be under a fall, not whether one comes. On a road: under it only, driving into
            it is counted apart.
          </p>
        </Plate>
        {chosen ? <ZoneTrees spot={chosen} /> : null}
        <Standing />
      </aside>
    </div>
  )
}

interface NumberedMapProps {
  bounds: Bounds
  spots: DeskProps['zones']
  chosenId: string | null
  /** A person chose the zone, so the map goes there; at first it shows the whole ground. */
  goes: boolean
  onChoose(id: string): void
}
function NumberedMap({ bounds, spots, chosenId, goes, onChoose }: NumberedMapProps) {
  const ground = useGround()
  const version = useTilesVersion()
  const features = useGroundFeatures(bounds)
  const port = useRef<MapPort | null>(null)
  const [ready, setReady] = useState(false)
  const chosen = spots.find((spot) => spot.zone.id === chosenId)?.zone.place ?? null
  const start = useMemo(() => aroundSpots(spots, bounds), [spots, bounds])
  useEffect(() => {
    if (ready && goes && chosen) port.current?.goTo(chosen, CLOSE_ZOOM)
  }, [ready, goes, chosen])
  const known = version.data ?? (version.error ? noVersion : null)
  const picture = useMemo(
    () => ({
      ...plainPicture(ground, known ?? noVersion),
      dotsOnly: true,
      selectedZoneId: chosenId,
      features: features.data ?? null,
      extra: {
        type: 'FeatureCollection' as const,
        features: spots.map((spot) => ({
          type: 'Feature' as const,
          geometry: { type: 'Point' as const, coordinates: spot.zone.place },
          properties: {
            kind: 'zone-number' as const,
            label: String(spot.rank),
            firm: spot.zone.id === chosenId,
          },
        })),
      },
    }),
    [ground, known, spots, chosenId, features.data],
  )
  return (
    <div className="hotspots-frame">
      {known ? (
        <GroundMap
          label="Map with a number on each zone of the list. The list beside it says the same in words."
          ground={bounds}
          start={start}
          picture={picture}
          ref={port}
          onIdle={() => setReady(true)}
          onPickZone={(zone) => onChoose(zone.id)}
        />
      ) : null}
    </div>
  )
}

/** The numbered places with a margin, so that the first look shows them all. */
function aroundSpots(spots: DeskProps['zones'], ground: Bounds): Bounds {
  const box = boundsOf({ type: 'MultiPoint', coordinates: spots.map((spot) => [...spot.zone.place]) })
  if (!box) return ground
  const margin = 0.0008
  return [box[0] - margin, box[1] - margin, box[2] + margin, box[3] + margin]
}
