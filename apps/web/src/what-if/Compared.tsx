import { type LogAxis, RangeAxis, RangeBar } from '@underbough/pictures'
import { sayPeople } from '../look/index.ts'
import type { Figures } from './reckon.ts'
import { outOf100, saySpread } from './say.ts'

const axis: LogAxis = { from: 0.01, to: 10 }
const barPx = 190
const unit = 'people within the outline'

/** Three figures as they stand and as they would be, each with its range. */
export function Compared({ before, after, touched }: { before: Figures; after: Figures; touched: string }) {
  const rows = [
    [`Falls that touch ${touched}`, 'pTouch', (n: number) => `${outOf100(n)} of 100`, outOf100],
    ['People within the outline', 'people', sayPeople, sayPeople],
    ['Falls with somebody there', 'pAny', (n: number) => `${outOf100(n)} of 100`, outOf100],
  ] as const
  return (
    <>
      <table className="compared">
        <thead>
          <tr>
            <th>Given that it falls</th>
            <th className="n">As it stands</th>
            <th className="n">As it would be</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, key, say, sayEnd]) => (
            <tr key={key}>
              <td>{name}</td>
              {[before, after].map((figures, place) => (
                <td key={place === 0 ? 'was' : 'would'} className="n">
                  <b>{say(figures[key].mean)}</b>
                  <span className="s q">{saySpread(figures[key], sayEnd)}</span>
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <div className="compared-bars">
        <RangeAxis axis={axis} widthPx={barPx} title="people within the outline" />
        {(
          [
            ['As it stands', before],
            ['As it would be', after],
          ] as const
        ).map(([name, figures]) => (
          <div key={name}>
            <RangeBar range={{ ...figures.people, unit }} axis={axis} widthPx={barPx} heightPx={20} />
            <span className="s q">{name}</span>
          </div>
        ))}
      </div>
    </>
  )
}
