import type { AreaGeometry, Position } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { withLateness } from '../trees/line.ts'
import { treeLines } from '../trees/queries.ts'
import { type Cell, cellBounds, cellRing } from './cells.ts'
import * as queries from './queries.ts'
import { monthOf, settleForReading } from './settle.ts'

const TREES_OF_EACH = 3
const GONE_LISTED = 12
/** Change of a figure that is rounding and no change. */
const SAME_SHARE = 0.005

const middle = (cell: Cell): Position => {
  const [w, s, e, n] = cellBounds(cell)
  return [(w + e) / 2, (s + n) / 2]
}

/** The figure that a spot is ranked by: people, or by ratings one number that orders as their counts do. */
export function figureBy(basis: queries.Basis, figures: queries.SpotFigures): number {
  if (basis === 'one') return figures.people.mean
  if (basis === 'rated') return figures.sumModerate
  const { treesExtreme, treesHigh, treesModerate } = figures
  return treesExtreme * 1e8 + treesHigh * 1e4 + treesModerate
}

export type Change = 'new' | 'up' | 'down' | 'same'
/** How a spot moved since the last month ended. */
export function changeOf(
  basis: queries.Basis,
  now: queries.SpotFigures,
  before: queries.SpotFigures | null,
): Change {
  const then = before ? figureBy(basis, before) : 0
  if (then === 0) return 'new'
  const figure = figureBy(basis, now)
  if (Math.abs(figure - then) <= SAME_SHARE * then) return 'same'
  return figure > then ? 'up' : 'down'
}

/** Spots in their order with the trees responsible, what changed since the last month, and how current that is. */
export async function listHotspots(deps: Deps, person: Person, question: queries.SpotQuestion) {
  const { organisation } = person
  const { db } = deps.database
  const { behind } = await settleForReading(deps, person)
  const month = monthOf(organisation, deps.now())
  const found = await queries.spots(db, organisation.id, question, month)
  const trees = await queries.treesOfSpots(db, organisation.id, found, question.basis, TREES_OF_EACH)
  const ids = [...new Set([...trees.values()].flat().map(({ treeId }) => treeId))]
  const lines = await treeLines(db, organisation.id, ids)
  const late = withLateness(organisation, deps.now())
  const comparable = await queries.hasEarlierMonth(db, organisation.id, month)
  const gone = comparable ? await queries.goneSpots(db, organisation.id, question.of, month, GONE_LISTED) : []
  return {
    spots: found.map(({ zone, cell, place, spot, before, ...figures }, i) => ({
      id: spot,
      zone,
      cell: cell ? { ...cell, ring: cellRing(cell) } : null,
      place: place ?? middle(cell!),
      ...figures,
      before: comparable ? before : null,
      change: comparable ? changeOf(question.basis, figures, before) : null,
      worst: (trees.get(spot) ?? []).flatMap(({ treeId, mean, least, most }) => {
        const line = lines.get(treeId)
        return line ? [{ ...late(line), people: { mean, least, most } }] : []
      }),
      rank: question.offset + i + 1,
    })),
    total: await queries.countSpots(db, organisation.id, question),
    gone: gone.map(({ spot, name, kind, before }) => ({ id: spot, name, kind, before })),
    comparable,
    behind,
    ...(await queries.figuresMade(db, organisation.id)),
  }
}

const TREES_SHOWN = 12
/** The trees over one zone or in one cell, with what each bears. */
export async function spotTrees(deps: Deps, { organisation }: Person, spot: string, basis: queries.Basis) {
  const { db } = deps.database
  const [x, y] = spot.split('/').map(Number)
  const asked = spot.includes('/')
    ? { spot, zone: null, cell: { x: x!, y: y! } }
    : { spot, zone: { id: spot, name: '', kind: 'building' as const }, cell: null }
  const trees = (await queries.treesOfSpots(db, organisation.id, [asked], basis, TREES_SHOWN)).get(spot) ?? []
  const lines = await treeLines(
    db,
    organisation.id,
    trees.map(({ treeId }) => treeId),
  )
  const late = withLateness(organisation, deps.now())
  return {
    trees: trees.flatMap(({ treeId, mean, least, most, pTouch }) => {
      const line = lines.get(treeId)
      return line ? [{ ...late(line), people: { mean, least, most }, pTouch }] : []
    }),
  }
}

/** Outlines of the zones named, for a drawing. */
export async function outlinesOf(deps: Deps, { organisation }: Person, ids: readonly string[]) {
  const found = await queries.outlines(deps.database.db, organisation.id, ids)
  return {
    outlines: [...found].map(([id, geometry]): { id: string; geometry: AreaGeometry } => ({ id, geometry })),
  }
}
