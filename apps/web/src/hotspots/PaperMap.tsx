import type { AreaGeometry, Position } from '@underbough/model'
import { useMemo } from 'react'
import { useGroundFeatures } from '../api/index.ts'
import type { Hotspot } from './hooks.ts'
import { apart, barLengthM, pathOn, sheetOf } from './paper-map.ts'

const WIDTH = 690
const TALL = 390
const NUMBER = 17

/** The places of the list on a plain map: black on white, to scale, north up, for any printer. */
export function PaperMap({
  spots,
  outlines,
}: {
  spots: readonly Hotspot[]
  outlines: ReadonlyMap<string, AreaGeometry>
}) {
  const sheet = useMemo(
    () =>
      sheetOf(
        spots.map(({ place }) => place),
        WIDTH,
        TALL,
      ),
    [spots],
  )
  const features = useGroundFeatures(sheet.bounds)
  const numbers = apart(
    spots.map(({ place }) => sheet.at(place)),
    NUMBER,
  )
  const trees = new Map(
    spots.flatMap(({ worst }) => worst.map(({ id, position }) => [id, position] as const)),
  )
  const barM = barLengthM(sheet.pxPerM, 130)
  const { widthPx, heightPx } = sheet
  const foot = heightPx - 12
  return (
    <svg
      className="paper-map"
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      role="img"
      aria-label={`Map with the numbers 1 to ${spots.length} on the places of the list; dots are the trees responsible. North is up; the bar is ${barM} metres.`}
    >
      <clipPath id="paper-map-frame">
        <rect width={widthPx} height={heightPx} />
      </clipPath>
      <g clipPath="url(#paper-map-frame)" fill="none" stroke="#000">
        {(features.data?.features ?? []).map(({ geometry, properties }, i) => (
          <path
            key={(properties as { id?: string }).id ?? i}
            d={pathOn(sheet, geometry)}
            {...(properties.kind === 'water'
              ? { fill: '#e4e4e4', stroke: '#777', strokeWidth: 0.8 }
              : properties.kind === 'building'
                ? { fill: '#ededed', stroke: '#999', strokeWidth: 0.5 }
                : properties.kind === 'green' || properties.kind === 'land'
                  ? { stroke: '#bbb', strokeWidth: 0.5 }
                  : { stroke: '#999', strokeWidth: properties.kind === 'road' ? 1.4 : 0.6 })}
          />
        ))}
        {spots.map(({ id, zone, cell }) => {
          const geometry = zone
            ? outlines.get(zone.id)
            : ({ type: 'Polygon', coordinates: [cell!.ring] } as AreaGeometry)
          return geometry ? (
            <path key={id} d={pathOn(sheet, geometry)} fill="#c9c9c9" fillOpacity={0.7} strokeWidth={1.3} />
          ) : null
        })}
        {[...trees].map(([id, position]) => {
          const [x, y] = sheet.at(position as Position)
          return <circle key={id} cx={x} cy={y} r={2.2} fill="#000" stroke="none" />
        })}
        {spots.map((spot, i) => {
          const [x, y] = numbers[i]!
          const [px, py] = sheet.at(spot.place)
          const wide = spot.rank > 99 ? NUMBER + 8 : NUMBER
          return (
            <g key={spot.id}>
              {Math.hypot(px - x, py - y) > 2 ? (
                <path d={`M${px} ${py}L${x} ${y}`} strokeWidth={0.8} />
              ) : null}
              <rect
                x={x - wide / 2}
                y={y - NUMBER / 2}
                width={wide}
                height={NUMBER}
                fill="#fff"
                strokeWidth={1.2}
              />
              <text
                x={x}
                y={y + 4}
                textAnchor="middle"
                fontSize={11.5}
                fontWeight={600}
                fill="#000"
                stroke="none"
              >
                {spot.rank}
              </text>
            </g>
          )
        })}
        <rect x={6} y={foot - 20} width={barM * sheet.pxPerM + 78} height={28} fill="#fff" stroke="none" />
        <path d={`M14 ${foot - 6}V${foot}H${14 + barM * sheet.pxPerM}V${foot - 6}`} strokeWidth={1.2} />
        <text x={20 + barM * sheet.pxPerM} y={foot} fontSize={11} fill="#000" stroke="none">
          {barM >= 1000 ? `${barM / 1000} km` : `${barM} m`}
        </text>
        <path
          d={`M${widthPx - 18} 34V12M${widthPx - 22} 19L${widthPx - 18} 11L${widthPx - 14} 19`}
          strokeWidth={1.4}
        />
        <text
          x={widthPx - 18}
          y={46}
          textAnchor="middle"
          fontSize={11}
          fontWeight={600}
          fill="#000"
          stroke="none"
        >
          N
        </text>
        <rect width={widthPx} height={heightPx} strokeWidth={1.6} />
      </g>
    </svg>
  )
}
