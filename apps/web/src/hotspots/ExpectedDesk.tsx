import { TreeMark, ZoneSwatch, zoneNames } from '@underbough/pictures'
import { type ReactNode, useMemo, useState } from 'react'
import { Link } from 'react-router'
import type { MapView } from '../api/index.ts'
import { Button, count, ErrorNote, LinkButton, Loading, Notice, Plate, Standing } from '../look/index.ts'
import type { Bounds } from '../map/index.ts'
import { decadesOver, EstimateAxis, EstimateBar } from '../settings/EstimateBar.tsx'
import { sayExpected, saySpan } from '../settings/estimateWords.ts'
import { useWidth } from '../tree/useWidth.ts'
import { type ExpectedZone, type ExpectedZones, useExpectedZones } from './expected.ts'
import type { SpotQuestion } from './hooks.ts'
import { MapColumn } from './MapColumn.tsx'
import '../settings/estimate.css'

const FIRST = 8
const FETCHED = 50
const NUMBERS_PX = 62

/** Zones by what is expected per year, as ranges. It ranks and does not decide; it stands here only while the organisation has it on. */
export function ExpectedDesk({
  asked,
  ground,
  chosenId,
  narrowing,
  onChoose,
  onView,
}: {
  asked: Pick<SpotQuestion, 'siteId' | 'kind'>
  ground: MapView
  chosenId: string | null
  narrowing: ReactNode
  onChoose(id: string): void
  onView(bounds: Bounds): void
}) {
  const found = useExpectedZones({ siteId: asked.siteId, kind: asked.kind }, FETCHED)
  const [overId, setOver] = useState<string | null>(null)
  const [all, setAll] = useState(false)
  const zones = found.data?.zones
  const spots = useMemo(
    () => (zones ?? []).map(({ zone, rank }) => ({ id: zone.id, zone, cell: null, place: zone.place, rank })),
    [zones],
  )
  if (found.error)
    return (
      <div className="page">
        <ErrorNote
          title="The zones cannot be ranked by what is expected per year."
          error={found.error}
          action={<Button onPress={() => found.refetch()}>Try again</Button>}
        />
      </div>
    )
  if (!found.data || !zones) return <Loading>Adding up what is expected per year.</Loading>
  const isChosen = ({ zone }: ExpectedZone) => zone.id === chosenId
  const chosen = zones.find(isChosen) ?? zones[0] ?? null
  const first = zones.slice(0, FIRST)
  const listed = all || !chosen ? zones : first.includes(chosen) ? first : [...first, chosen]
  const spotOf = ({ zone }: ExpectedZone) => spots.find(({ id }) => id === zone.id)!
  return (
    <div className="hotspots">
      <MapColumn
        of="zone"
        bounds={ground.bounds}
        spots={spots}
        listed={listed.map(spotOf)}
        chosen={chosen ? spotOf(chosen) : null}
        overId={overId}
        goes={chosenId !== null}
        onChoose={onChoose}
        onOver={setOver}
        onView={onView}
      />
      <aside className="hotspots-side" aria-label="The places in order">
        <Plate title="Zones by what is expected per year" aside="ranges, for ranking only">
          {narrowing}
          {found.data.waiting > 0 ? (
            <p className="s" role="status">
              {count(found.data.waiting, 'scenario')} still being worked out; this list renews itself.
            </p>
          ) : null}
          <Notice tone="mind">
            So wide a range ranks zones against each other. It does not decide: what the ratings and local
            rules ask for stands, whatever is shown here.
          </Notice>
          {zones.length === 0 ? (
            <p className="q hotspot-none">No rated tree has people under a fall here.</p>
          ) : (
            <ExpectedRows
              zones={listed}
              chosenId={chosen?.zone.id ?? null}
              overId={overId}
              onChoose={onChoose}
              onOver={setOver}
            />
          )}
          {zones.length > FIRST ? (
            <div className="row c wrap hotspot-presses">
              <Button kind="quiet" onPress={() => setAll(!all)}>
                {all
                  ? `Only the first ${FIRST}`
                  : zones.length < FETCHED
                    ? `All ${zones.length}`
                    : `The first ${FETCHED}`}
              </Button>
            </div>
          ) : null}
          <p className="s q prose">
            {sayTotal(found.data.total)}Each bar runs from the least to the most that the bands and the way of
            the fall leave open; the gap is the middle, by which the zones stand in order. These are expected
            numbers of people within an outline, not chances, and nothing about harm.
          </p>
        </Plate>
        {chosen ? <Responsible of={chosen} /> : null}
        <Standing />
      </aside>
    </div>
  )
}

const sayTotal = (total: ExpectedZones['total']) =>
  total
    ? `Over all zones together: ${saySpan(total, sayExpected)}. ${
        total.unrated > 0
          ? `${count(total.unrated, 'tree')} without a rating ${total.unrated === 1 ? 'is' : 'are'} not in it. `
          : ''
      }`
    : ''

function ExpectedRows({
  zones,
  chosenId,
  overId,
  onChoose,
  onOver,
}: {
  zones: readonly ExpectedZone[]
  chosenId: string | null
  overId: string | null
  onChoose(id: string): void
  onOver(id: string | null): void
}) {
  const [box, width] = useWidth()
  const axis = useMemo(
    () => decadesOver(zones.flatMap(({ perYear }) => [perYear.least, perYear.most])),
    [zones],
  )
  const bar = Math.max(0, width - NUMBERS_PX)
  return (
    <div ref={box} className="expected-rows">
      {bar > 0 ? (
        <div className="expected-axis">
          <EstimateAxis axis={axis} widthPx={bar} say={sayExpected} />
        </div>
      ) : null}
      <ol>
        {zones.map(({ zone, perYear, worst, trees, rank }) => (
          <li
            key={zone.id}
            className={
              [zone.id === chosenId ? 'on' : '', zone.id === overId ? 'over' : ''].join(' ').trim() ||
              undefined
            }
            onPointerEnter={() => onOver(zone.id)}
            onPointerLeave={() => onOver(null)}
          >
            <span className="n">{rank}</span>
            <span>
              <ZoneSwatch kind={zone.kind} widthPx={24} heightPx={14} hidden />
              <span className="out-of-sight">{zoneNames[zone.kind]}</span>
            </span>
            <div>
              <div className="expected-words">
                <Button
                  kind="quiet"
                  className="zone-press"
                  aria-current={zone.id === chosenId ? 'true' : undefined}
                  onFocus={() => onOver(zone.id)}
                  onBlur={() => onOver(null)}
                  onPress={() => onChoose(zone.id)}
                >
                  {zone.name}
                </Button>
                <span>{saySpan(perYear, sayExpected)}</span>
              </div>
              {bar > 0 ? (
                <EstimateBar
                  range={perYear}
                  axis={axis}
                  widthPx={bar}
                  says={`${zone.name}: ${saySpan(perYear, sayExpected)}`}
                />
              ) : null}
              <p className="s q">
                {worst[0] ? `${worst[0].tree.tag}, ${worst[0].tree.risk ?? 'not yet rated'}; ` : ''}
                {count(trees, 'rated tree')} over it
              </p>
            </div>
          </li>
        ))}
      </ol>
    </div>
  )
}

function Responsible({ of: { zone, worst, trees } }: { of: ExpectedZone }) {
  return (
    <Plate
      title={zone.name}
      aside={trees > worst.length ? `${worst.length} of ${count(trees, 'rated tree')}` : null}
    >
      <ul className="expected-trees">
        {worst.map(({ tree, perYear }) => (
          <li key={tree.id}>
            <TreeMark risk={tree.risk} visited={tree.risk !== null} status={tree.status} boxPx={28} hidden />
            <div>
              <Link to={`/trees/${tree.id}`}>
                {tree.tag} {tree.commonName ?? tree.species}
              </Link>
              , {tree.risk ?? 'not yet rated'}
              <p className="s q">Somebody within its outline here: {saySpan(perYear, sayExpected)}</p>
            </div>
          </li>
        ))}
      </ul>
      <div className="row c wrap">
        <LinkButton to={`/ground?zone=${zone.id}`}>Open on the ground</LinkButton>
        <LinkButton to={`/zones/${zone.id}/what-if`}>What if …</LinkButton>
      </div>
    </Plate>
  )
}
