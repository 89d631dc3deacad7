import { RangeAxis, RangeBar, ZoneSwatch } from '@underbough/pictures'
import { sayPeople } from '../look/index.ts'
import type { ZoneFall } from './falls.ts'
import { Scrolled } from './Scrolled.tsx'
import { outOf100, sayRange, sayShares, sayValue } from './underWords.ts'
import { onPhone, textScaleOf } from './useWidth.ts'

const unit = 'people within its outline'
interface ZonesProps {
  zones: readonly ZoneFall[]
  barPx: number
}

/** One row a zone: touched by, people, somebody there, each with its range. */
export function UnderZones(props: ZonesProps) {
  return onPhone() ? <ZoneList {...props} /> : <ZoneTable {...props} />
}

const layersOf = ({ stem, crown, scatter }: ZoneFall['people']) =>
  [
    `stem ${sayPeople(stem)}`,
    `crown ${sayPeople(crown)}`,
    ...(scatter > 0 ? [`thrown pieces ${sayPeople(scatter)}`] : []),
  ].join(', ')

function ZoneList({ zones, barPx }: ZonesProps) {
  return (
    <>
      <RangeAxis title={unit} widthPx={barPx} textScale={textScaleOf(window.innerWidth)} />
      <ul className="tree-list">
        {zones.map((zone) => (
          <li key={zone.id}>
            <div className="row">
              <span className="tree-zone">
                <ZoneSwatch kind={zone.kind} hidden /> {zone.name}
              </span>
              <b className="sp">{sayPeople(zone.people.mean)}</b>
            </div>
            <RangeBar range={{ ...zone.people, unit }} widthPx={barPx} heightPx={18} />
            <p className="s q">
              {sayRange(zone.people)} people; {layersOf(zone.people)}.
            </p>
            <p className="s q">
              Of 100 falls {outOf100(zone.pTouch.mean)} touch it ({sayShares(zone.pTouch)}),{' '}
              {outOf100(zone.pAny.mean)} with somebody there
              {zone.pAny.range ? ` (${sayShares(zone.pAny.range)})` : ''}.
              {zone.valueWithin === null ? '' : ` Value within the outline ${sayValue(zone.valueWithin)}.`}
            </p>
            <Asked zone={zone} />
          </li>
        ))}
      </ul>
    </>
  )
}

function ZoneTable({ zones, barPx }: ZonesProps) {
  const valued = zones.some(({ valueWithin }) => valueWithin !== null)
  return (
    <Scrolled label="Zones within reach">
      <table className="under-table">
        <thead>
          <tr>
            <th>Zone</th>
            <th className="n">
              touched{'\u00a0'}by,
              <br />
              of 100 falls
            </th>
            <th style={{ minWidth: barPx + 10 }}>
              <RangeAxis title={unit} widthPx={barPx} />
            </th>
            <th className="n">people</th>
            <th className="n">
              somebody{'\u00a0'}there,
              <br />
              of 100 falls
            </th>
            {valued ? <th className="n">value within</th> : null}
          </tr>
        </thead>
        <tbody>
          {zones.map((zone) => (
            <tr key={zone.id}>
              <td>
                <span className="tree-zone">
                  <ZoneSwatch kind={zone.kind} hidden /> {zone.name}
                </span>
                <Asked zone={zone} />
              </td>
              <td className="n">
                {outOf100(zone.pTouch.mean)}
                <span className="under-range">{sayShares(zone.pTouch)}</span>
              </td>
              <td>
                <RangeBar range={{ ...zone.people, unit }} widthPx={barPx} heightPx={20} />
                <span className="under-range">{layersOf(zone.people)}</span>
              </td>
              <td className="n">
                <b>{sayPeople(zone.people.mean)}</b>
                <span className="under-range">{sayRange(zone.people)}</span>
              </td>
              <td className="n">
                {outOf100(zone.pAny.mean)}
                {zone.pAny.range ? <span className="under-range">{sayShares(zone.pAny.range)}</span> : null}
              </td>
              {valued ? (
                <td className="n">{zone.valueWithin === null ? '' : sayValue(zone.valueWithin)}</td>
              ) : null}
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  )
}

/** Where the figures and the inspector's word lie far apart. It never changes the word. */
function Asked({ zone }: { zone: ZoneFall }) {
  return zone.asked?.question ? <p className="tree-flag s under-asked">{zone.asked.question}</p> : null
}
