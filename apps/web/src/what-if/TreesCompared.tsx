import { TreeMark } from '@underbough/pictures'
import { Link } from 'react-router'
import { capital, count, sayPeople } from '../look/index.ts'
import { Scrolled } from '../tree/Scrolled.tsx'
import { outOf100, saySpread } from './say.ts'
import type { Row } from './trial.ts'

const SHOWN = 10

/** Each tree over the zone by itself, as it stands and as it would be. */
export function TreesCompared({ rows, zoneName }: { rows: readonly Row[]; zoneName: string }) {
  const more = rows.length - SHOWN
  return (
    <>
      <Scrolled label={`Trees over ${zoneName}, before and after`}>
        <table className="compared">
          <thead>
            <tr>
              <th colSpan={2}>If this tree falls</th>
              <th className="n">Falls that touch it</th>
              <th className="n">People now</th>
              <th className="n">People then</th>
            </tr>
          </thead>
          <tbody>
            {rows.slice(0, SHOWN).map(({ tree, before, after }) => (
              <tr key={tree.id}>
                <td className="mark-cell">
                  <TreeMark
                    risk={tree.risk}
                    visited={tree.risk !== null}
                    status={tree.status}
                    boxPx={28}
                    hidden
                  />
                </td>
                <td>
                  <Link to={`/trees/${tree.id}`}>
                    {tree.tag} {tree.commonName ?? tree.species}
                  </Link>
                  <span className="s q zone-worst">{capital(tree.risk ?? 'not yet rated')}</span>
                </td>
                <td className="n">
                  {outOf100(before.pTouch.mean)} → {outOf100(after.pTouch.mean)}
                  <span className="s q zone-worst">of 100</span>
                </td>
                {[before, after].map((figures, place) => (
                  <td key={place === 0 ? 'was' : 'would'} className="n">
                    {sayPeople(figures.people.mean)}
                    <span className="s q zone-worst">{saySpread(figures.people, sayPeople)}</span>
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolled>
      {more > 0 ? <p className="s q">And {count(more, 'tree')} that bear less.</p> : null}
    </>
  )
}
