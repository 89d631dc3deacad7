import { type LogAxis, RangeAxis, RangeBar, ZoneSwatch, zoneNames } from '@underbough/pictures'
import { Button, sayPeople } from '../look/index.ts'
import type { Hotspot } from './hooks.ts'
import type { Basis } from './ranking.ts'

const barPx = 160

/** Zones in their order, a bar for the range of each. A press on a name goes there on the map. */
export function HotspotTable({
  spots,
  basis,
  axis,
  chosenId,
  onChoose,
}: {
  spots: readonly (Hotspot & { figure: number })[]
  basis: Basis
  axis: LogAxis
  chosenId: string | null
  onChoose(id: string): void
}) {
  return (
    <table className="hotspot-table">
      <thead>
        <tr>
          <th colSpan={2}>
            <span className="out-of-sight">Number and kind</span>
          </th>
          <th>Zone</th>
          <th className="n">People, {basis === 'one' ? 'mean' : 'sum'}</th>
          <th className="n">Trees over it</th>
          <th className="bar-cell">
            <RangeAxis axis={axis} widthPx={barPx} title="people within the outline" />
          </th>
        </tr>
      </thead>
      <tbody>
        {spots.map((spot) => (
          <tr key={spot.zone.id} className={spot.zone.id === chosenId ? 'on' : undefined}>
            <td className="n rank-cell">{spot.rank}</td>
            <td className="swatch-cell">
              <ZoneSwatch kind={spot.zone.kind} widthPx={24} heightPx={14} hidden />
              <span className="out-of-sight">{zoneNames[spot.zone.kind]}</span>
            </td>
            <td>
              <Button
                kind="quiet"
                className="zone-press"
                aria-current={spot.zone.id === chosenId ? 'true' : undefined}
                onPress={() => onChoose(spot.zone.id)}
              >
                {spot.zone.name}
              </Button>
              <span className="s q zone-worst">{sayWorst(spot)}</span>
            </td>
            <td className="n">{sayPeople(spot.figure)}</td>
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

/** `0417, high; 3 more`: the worst rated tree, and how many others over the zone are rated moderate or more. */
function sayWorst({ worst, treesModerate }: Hotspot): string {
  const [first] = worst
  if (!first) return ''
  const rest = treesModerate - (first.risk && first.risk !== 'low' ? 1 : 0)
  return `${first.tag}, ${first.risk ?? 'not yet rated'}${rest > 0 ? `; ${rest} more` : ''}`
}
