import { useQueries } from '@tanstack/react-query'
import type { Position } from '@underbough/model'
import type { Feature, Geometry } from 'geojson'
import { useMemo } from 'react'
import { api, useGroundFeatures, useMapView } from '../api/index.ts'
import { count, Loading, Notice, Plate } from '../look/index.ts'
import { boundsOf } from '../map/index.ts'
import {
  apartKm,
  type Box,
  boxOf,
  type Frame,
  frameOf,
  inFrame,
  looksSwapped,
  overlaps,
  pagesAcross,
} from './extent.ts'
import type { ImportRow, ImportRows, ImportStatus } from './types.ts'

const PAGE_ROWS = 100
const MOST_PAGES = 10
const widthPx = 460
const heightPx = 320

/** Where the rows fall, over the ground as it is known, so that exchanged axes and a wrong grid are seen at once. */
export function PointsPlate({ status }: { status: ImportStatus }) {
  const view = useMapView()
  const total = status.counts.rows + status.counts.gone
  const pages = useQueries({
    queries: pagesAcross(total, PAGE_ROWS, MOST_PAGES).map((page) => ({
      queryKey: ['import', status.importId, 'rows', {}, page],
      queryFn: () => api.get<ImportRows>(`/imports/${status.importId}/rows`, { page }),
      staleTime: 600_000,
    })),
  })
  const ready = pages.every((page) => page.data || page.error)
  const placed = ready ? pages.flatMap((page) => (page.data?.rows ?? []).flatMap(placedOf)) : []
  const ground = view.data?.bounds ?? null
  const shown = inFrame(placed, ground)
  const box = boxOf(
    shown.flatMap(({ box: [w, s, e, n] }): Position[] => [
      [w, s],
      [e, n],
    ]),
  )
  return (
    <Plate title="Where they fall" aside={sayShown(placed.length, status)} className="points-plate">
      {!ready ? (
        <Loading>Placing the rows.</Loading>
      ) : !box ? (
        <p className="q">
          No row has a place. {status.counts.refused > 0 ? 'Is the coordinate system the right one?' : ''}
        </p>
      ) : (
        <Placed
          shapes={shown.map((row) => row.shape)}
          box={box}
          ground={ground}
          strays={placed.length - shown.length}
        />
      )}
    </Plate>
  )
}

const sayShown = (shown: number, { counts }: ImportStatus) => {
  const taken = counts.taken + counts.noted
  return shown > 0 && shown < taken
    ? `${count(shown, 'row')} of ${taken.toLocaleString('en-GB')}, from all over the file`
    : null
}

interface PlacedRow {
  shape: Geometry
  box: Box
}
function placedOf(row: ImportRow): PlacedRow[] {
  const record = row.record as { position?: Position; geometry?: Geometry } | null
  const shape: Geometry | undefined = record?.position
    ? { type: 'Point', coordinates: record.position }
    : record?.geometry
  const box = shape ? boundsOf(shape) : null
  return shape && box ? [{ shape, box }] : []
}

function Placed({
  shapes,
  box,
  ground,
  strays,
}: {
  shapes: readonly Geometry[]
  box: Box
  ground: Box | null
  strays: number
}) {
  const apart = ground && !overlaps(box, ground)
  const features = useGroundFeatures(apart ? null : ground)
  const frame = useMemo(() => frameOf(box, widthPx, heightPx), [box])
  const barM = roundLength(frame.metresPerPx * 90)
  const says = `${count(shapes.length, 'place')} between ${box[0].toFixed(4)}, ${box[1].toFixed(4)} and ${box[2].toFixed(4)}, ${box[3].toFixed(4)}`
  return (
    <>
      <svg
        className="points"
        viewBox={`0 0 ${widthPx} ${heightPx}`}
        role="img"
        aria-label={`${says}, longitude and latitude.`}
      >
        {(features.data?.features ?? []).map((feature) => (
          <GroundLine key={feature.properties.id} feature={feature} frame={frame} />
        ))}
        {shapes.map((shape, i) => (
          <Shape key={i} shape={shape} frame={frame} />
        ))}
        <rect className="points-edge" x={0.5} y={0.5} width={widthPx - 1} height={heightPx - 1} />
        <rect
          className="points-bed"
          x={8}
          y={heightPx - 30}
          width={barM / frame.metresPerPx + 16}
          height={22}
        />
        <path className="points-bar" d={`M16 ${heightPx - 14}h${barM / frame.metresPerPx}`} />
        <text className="s" x={16} y={heightPx - 18}>
          {barM >= 1000 ? `${barM / 1000} km` : `${barM} m`}
        </text>
      </svg>
      <p className="caption">
        {degrees(box[0], 'E', 'W')} to {degrees(box[2], 'E', 'W')}, {degrees(box[1], 'N', 'S')} to{' '}
        {degrees(box[3], 'N', 'S')}.
      </p>
      {strays > 0 ? (
        <Notice tone="mind" title={`${count(strays, 'row')} outside this drawing.`}>
          {strays === 1 ? 'It falls' : 'They fall'} beyond your ground, and {strays === 1 ? 'is' : 'are'}{' '}
          noted row by row.
        </Notice>
      ) : null}
      {ground && apart ? (
        <Notice tone="mind" title={`They fall ${sayKm(apartKm(box, ground))} from your ground.`}>
          {looksSwapped(box, ground)
            ? 'With the two figures exchanged they would fall on it: the columns for east and north stand in the other order.'
            : 'Is the coordinate system right, and do the columns for east and north stand in their order?'}
        </Notice>
      ) : null}
    </>
  )
}

const sayKm = (km: number) =>
  `${(km < 10 ? Number(km.toFixed(1)) : Math.round(km)).toLocaleString('en-GB')} km`
const degrees = (value: number, positive: string, negative: string) =>
  `${Math.abs(value).toFixed(4)}° ${value < 0 ? negative : positive}`

/** The largest of 1, 2 and 5 times a power of ten that is no longer than this, metres. */
function roundLength(metres: number): number {
  const power = 10 ** Math.floor(Math.log10(metres))
  return ([5, 2, 1].find((step) => step * power <= metres) ?? 1) * power
}

function lines(shape: Geometry): Position[][] {
  if (shape.type === 'LineString') return [shape.coordinates as Position[]]
  if (shape.type === 'MultiLineString' || shape.type === 'Polygon') return shape.coordinates as Position[][]
  if (shape.type === 'MultiPolygon') return shape.coordinates.flat() as Position[][]
  return []
}
const pathOf = (shape: Geometry, frame: Frame) =>
  lines(shape)
    .map(
      (line) =>
        `M${line
          .map((p) =>
            frame
              .place(p)
              .map((v) => v.toFixed(1))
              .join(' '),
          )
          .join('L')}`,
    )
    .join('')

function GroundLine({ feature, frame }: { feature: Feature<Geometry, { kind: string }>; frame: Frame }) {
  const { kind } = feature.properties
  const known = ['water', 'green', 'road', 'path'].includes(kind)
  return known ? <path className={`points-${kind}`} d={pathOf(feature.geometry, frame)} /> : null
}

function Shape({ shape, frame }: { shape: Geometry; frame: Frame }) {
  if (shape.type === 'Point') {
    const [cx, cy] = frame.place(shape.coordinates as Position)
    return <circle className="points-row" cx={cx.toFixed(1)} cy={cy.toFixed(1)} r={2} />
  }
  return <path className="points-shape" d={pathOf(shape, frame)} />
}
