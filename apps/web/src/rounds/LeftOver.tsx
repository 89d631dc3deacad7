import { TreeMark } from '@underbough/pictures'
import { Link } from 'react-router'
import type { PlanWhole } from '../api/index.ts'
import { count, Plate } from '../look/index.ts'
import { leftOver } from './facts.ts'

/** Every tree that found no place says why, and what placing it would cost. */
export function LeftOver({ unplaced }: { unplaced: PlanWhole['unplaced'] }) {
  if (unplaced.length === 0)
    return (
      <Plate title="Left over" aside="nothing">
        <p className="q">Every tree that was due found a place.</p>
      </Plate>
    )
  return (
    <Plate title="Left over" aside={`${count(unplaced.length, 'tree')}, why and what placing one costs`}>
      <ul className="left-over">
        {leftOver(unplaced).map(({ key, rows, message }) => {
          const { tree, addedCost } = rows[0]!
          return (
            <li key={key}>
              <TreeMark
                risk={tree.risk}
                overdue={tree.overdueDays > 0}
                visited={tree.seen}
                boxPx={30}
                hidden
              />
              <div>
                {rows.length === 1 ? (
                  <Link to={`/trees/${tree.id}`}>{`${tree.tag} ${tree.commonName ?? tree.species}`}</Link>
                ) : (
                  <span>{`${rows.length} more trees`}</span>
                )}
                <p className="s q">{message}</p>
              </div>
              <span className="s">
                {rows.length === 1 && addedCost !== null && addedCost > 0
                  ? `+ ${Math.round(addedCost / 60)} min`
                  : ''}
              </span>
            </li>
          )
        })}
      </ul>
    </Plate>
  )
}
