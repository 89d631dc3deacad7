import { type LogAxis, RangeAxis, RangeBar, ZoneSwatch, zoneNames } from '@underbough/pictures'
import { Button } from '../look/index.ts'
import type { Squares } from '../map/index.ts'
import type { Basis, Hotspot } from './hooks.ts'
import { sayChange, sayFigure, sayName, sayWorst } from './ranking.ts'

const barPx = 150
const figureNames: Record<Basis, string> = {
  one: 'People, mean',
  rated: 'People, sum',
  rating: 'Trees rated',
}

/** Spots in their order, a bar for the range of each. A press on a name goes there on the map; what is under the hand stands out there. */
export function HotspotTable({
  spots,
  basis,
  axis,
  squares,
  chosenId,
  overId,
  onChoose,
  onOver,
}: {
  spots: readonly Hotspot[]
  basis: Basis
  axis: LogAxis
  squares: Squares
  chosenId: string | null
  overId: string | null
  onChoose(id: string): void
  onOver(id: string | null): void
}) {
  const ofCells = spots[0]?.cell != null
  return (
    <table className={ofCells ? 'hotspot-table of-cells' : 'hotspot-table'}>
      <thead>
        <tr>
          <th colSpan={2}>
            <span className="out-of-sight">Number and kind</span>
          </th>
          <th>{ofCells ? 'Cell' : 'Zone'}</th>
          <th className="n">{figureNames[basis]}</th>
          <th className="n">{ofCells ? 'Trees in it' : 'Trees over it'}</th>
          <th className="bar-cell">
            <RangeAxis axis={axis} widthPx={barPx} title="people within the outline" />
          </th>
        </tr>
      </thead>
      <tbody>
        {spots.map((spot) => (
          <tr
            key={spot.id}
            className={
              [spot.id === chosenId ? 'on' : '', spot.id === overId ? 'over' : ''].join(' ').trim() ||
              undefined
            }
            onPointerEnter={() => onOver(spot.id)}
            onPointerLeave={() => onOver(null)}
          >
            <td className="n rank-cell">{spot.rank}</td>
            <td className="swatch-cell">
              {spot.zone ? (
                <>
                  <ZoneSwatch kind={spot.zone.kind} widthPx={24} heightPx={14} hidden />
                  <span className="out-of-sight">{zoneNames[spot.zone.kind]}</span>
                </>
              ) : (
                <span className="cell-swatch" aria-hidden="true" />
              )}
            </td>
            <td>
              <Button
                kind="quiet"
                className="zone-press"
                aria-current={spot.id === chosenId ? 'true' : undefined}
                onFocus={() => onOver(spot.id)}
                onBlur={() => onOver(null)}
                onPress={() => onChoose(spot.id)}
              >
                {sayName(spot, squares)}
              </Button>
              <span className="s q zone-worst">{sayWorst(spot)}</span>
            </td>
            <td className="n">
              {sayFigure(basis, spot)}
              <span className="s q zone-worst">{sayChange(basis, spot)}</span>
            </td>
            <td className="n">{spot.trees.toLocaleString('en-GB')}</td>
            <td className="bar-cell">
              <RangeBar
                range={{ ...spot.people, unit: 'people within the outline' }}
                axis={axis}
                widthPx={barPx}
                heightPx={26}
              />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
