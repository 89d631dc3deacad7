import type { CivilDate } from '@underbough/model'
import { addDays } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { type TreeRow, useTrees } from '../api/index.ts'
import {
  Button,
  Empty,
  ErrorNote,
  Leaf,
  Loading,
  riskRank,
  Standing,
  sayDate,
  sayLength,
} from '../look/index.ts'
import type { Brush } from './brush.ts'
import { type Narrowing, namesOf } from './narrow.ts'

interface DueListProps {
  brush: Brush | null
  /** Narrowed by the server, as the map's tiles are. */
  narrowing: Narrowing
  /** The strip's first Monday: a brush from there has no beginning. */
  first: CivilDate | null
  passes(row: TreeRow): boolean
  squareOf(lon: number, lat: number): string | null
  onTree(row: TreeRow): void
  onShowAll(): void
}

/** The leaf while nothing is chosen: what is due between the pegs, the worst first. */
export function DueList({ brush, narrowing, first, passes, squareOf, onTree, onShowAll }: DueListProps) {
  const found = useTrees({
    limit: 400,
    risk: narrowing.risks,
    overdue: narrowing.overdue || undefined,
    seen: narrowing.neverSeen ? false : undefined,
    names: namesOf(narrowing),
    siteId: narrowing.siteId,
    dueFrom: brush && brush.from !== first ? brush.from : undefined,
    dueUntil: brush ? addDays(brush.to, -1) : undefined,
  })
  const rows = (found.data?.trees ?? [])
    .filter((row) => row.due && passes(row))
    .sort((a, b) => riskRank(b.risk) - riskRank(a.risk) || b.overdueDays - a.overdueDays)
  return (
    <Leaf label="Due between the pegs">
      <div className="row">
        <h2>Due first</h2>
        <span className="sp s q">worst first, then latest</span>
      </div>
      {found.error ? (
        <ErrorNote
          title="The list cannot be fetched."
          error={found.error}
          action={<Button onPress={() => found.refetch()}>Try again</Button>}
        />
      ) : !found.data ? (
        <Loading>Fetching what is due.</Loading>
      ) : rows.length === 0 ? (
        <Empty
          title="Nothing is due between these pegs."
          action={brush ? <Button onPress={onShowAll}>Show all weeks</Button> : null}
        >
          Widen them, or enjoy the week.
        </Empty>
      ) : (
        <ul className="due-list">
          {rows.slice(0, 40).map((row) => (
            <li key={row.id}>
              <Button kind="quiet" className="due-row" onPress={() => onTree(row)}>
                <TreeMark
                  risk={row.risk}
                  overdue={row.overdueDays > 0}
                  visited={row.seen}
                  status={row.status}
                  boxPx={30}
                  hidden
                />
                <span>
                  {row.tag} <b>{row.commonName ?? row.species}</b>
                  <span className="s q due-when">
                    {row.due!.kind === 'work' ? 'Work' : 'Look'}{' '}
                    {row.overdueDays > 0
                      ? `${sayLength(row.overdueDays)} late`
                      : `due ${sayDate(row.due!.on, true)}`}
                  </span>
                </span>
                <span className="sp s q">{squareOf(row.position[0], row.position[1])}</span>
              </Button>
            </li>
          ))}
        </ul>
      )}
      <Standing small />
    </Leaf>
  )
}
