import type { CivilDate } from '@underbough/model'
import { count, Plate } from '../look/index.ts'
import type { Squares } from '../map/index.ts'
import type { Basis, HotspotList } from './hooks.ts'
import { lastMonth, sayChange, sayFigure, sayName } from './ranking.ts'

/** What moved since the last month ended: of the listed, and what is gone. */
export function Since({
  list,
  basis,
  today,
  squares,
}: {
  list: HotspotList
  basis: Basis
  today: CivilDate
  squares: Squares
}) {
  const month = lastMonth(today)
  if (!list.comparable)
    return (
      <Plate title="Since last month">
        <p className="s q">
          No month before this one: figures are kept from now on, and a month from now this place says what
          moved.
        </p>
      </Plate>
    )
  const moved = list.spots.filter(({ change }) => change && change !== 'same')
  const number = (change: string) => moved.filter((spot) => spot.change === change).length
  const gone = list.gone.filter(({ before }) => sayFigure(basis, before) !== 'none')
  return (
    <Plate title={`Since the end of ${month}`} aside={`of the ${list.spots.length} listed`}>
      {moved.length + gone.length === 0 ? (
        <p className="s q">Nothing moved by more than half of one per cent.</p>
      ) : (
        <>
          <p className="prose">
            {number('new')} new, {number('up')} up, {number('down')} down; {count(gone.length, 'place')} gone.
          </p>
          <ul className="hotspot-moves">
            {moved.slice(0, 8).map((spot) => (
              <li key={spot.id}>
                <span className="n">{spot.rank}</span> {sayName(spot, squares)}:{' '}
                {spot.change === 'new'
                  ? `new, ${sayFigure(basis, spot)}`
                  : `${sayChange(basis, spot)} to ${sayFigure(basis, spot)}`}
              </li>
            ))}
            {gone.map(({ id, name, before }) => (
              <li key={id}>
                <span className="n">–</span> {name ?? 'A cell of the grid'}: gone, was{' '}
                {sayFigure(basis, before)}
              </li>
            ))}
          </ul>
          <p className="s q">
            A figure moves when a tree, a zone or a rating changes, and when the assumptions or the method do.
          </p>
        </>
      )}
    </Plate>
  )
}
