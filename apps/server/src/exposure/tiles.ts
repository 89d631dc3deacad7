import type { Session } from '@underbough/db'
import { type Tile, treesBySquare } from './pass-queries.ts'
import { LOCK_LEVEL } from './queries.ts'

/** Squares of this level are the smallest: about 150 m at the equator. */
const FINEST = 18
/** Neighbouring squares are joined up to this many trees: a second or two of work. */
export const TREES_IN_TILE = 4000

/**
 * Cuts the map into squares of about equally many trees: four squares become the one above them while that holds no more than
 * `most` trees, and no further than the squares in which writers wait for each other.
 */
export function joinSquares(
  squares: readonly { place: number; trees: number }[],
  most = TREES_IN_TILE,
): (Tile & { trees: number })[] {
  const tiles: (Tile & { trees: number })[] = []
  let here = new Map(squares.map(({ place, trees }) => [place, trees]))
  for (let level = FINEST; level >= LOCK_LEVEL; level--) {
    const above = new Map<number, number>()
    for (const [place, trees] of here) above.set(parentOf(place), (above.get(parentOf(place)) ?? 0) + trees)
    for (const [place, trees] of here) {
      const joined = level > LOCK_LEVEL && above.get(parentOf(place))! <= most
      const split = level < FINEST && trees > most
      if (!joined && !split) tiles.push({ level, place, trees })
    }
    here = above
  }
  return tiles
}

const parentOf = (place: number) => Math.floor(place / 4)

/** The squares of a pass over all trees of an organisation. */
export async function tilesOf(session: Session, organisationId: string) {
  return joinSquares(await treesBySquare(session, organisationId, FINEST))
}
