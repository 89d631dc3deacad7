import type { LogAxis } from '@underbough/pictures'
import type { Hotspot } from './hooks.ts'

/** `one`: if the tree that bears most falls. `rated`: all trees rated moderate or more, added. */
export type Basis = 'one' | 'rated'

const figureOf = (spot: Hotspot, basis: Basis) => (basis === 'one' ? spot.people.mean : spot.sumModerate)

/** Zones with the most people first, numbered from 1. Zones of one figure keep the server's order; those with nobody under a fall are left out. */
export function ranked(spots: readonly Hotspot[], basis: Basis): (Hotspot & { figure: number })[] {
  return spots
    .map((spot) => ({ ...spot, figure: figureOf(spot, basis) }))
    .filter((spot) => spot.figure > 0)
    .sort((a, b) => b.figure - a.figure || a.rank - b.rank)
    .map((spot, i) => ({ ...spot, rank: i + 1 }))
}

/** An axis of whole decades on which every bar has its place: from 0.01 people, at least to 10, at most to 10,000. */
export function axisOf(spots: readonly Hotspot[]): LogAxis {
  const most = Math.max(10, ...spots.map((spot) => spot.people.most))
  return { from: 0.01, to: Math.min(10_000, 10 ** Math.ceil(Math.log10(most) - 1e-9)) }
}
