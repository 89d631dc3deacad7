import type { LogAxis } from '@underbough/pictures'
import { sayPeople } from '../look/index.ts'
import type { Squares } from '../map/index.ts'
import type { Basis, Hotspot, Order, SpotFigures } from './hooks.ts'

export const orderNames: Record<Order, string> = {
  one: 'if the tree that bears most falls',
  rated: 'all trees rated moderate or more',
  rating: 'by rating',
  expected: 'expected per year',
}

/** An axis of whole decades on which every bar has its place: from 0.01 people, at least to 10, at most to 10,000. */
export function axisOf(spots: readonly Pick<Hotspot, 'people'>[]): LogAxis {
  const most = Math.max(10, ...spots.map((spot) => spot.people.most))
  return { from: 0.01, to: Math.min(10_000, 10 ** Math.ceil(Math.log10(most) - 1e-9)) }
}

/** The figure it is ranked by, in words: `2.1`, or `1 extreme, 2 high`. */
export function sayFigure(basis: Basis, figures: SpotFigures): string {
  if (basis === 'one') return sayPeople(figures.people.mean)
  if (basis === 'rated') return sayPeople(figures.sumModerate)
  const { treesExtreme: extreme, treesHigh, treesModerate } = figures
  const parts = [
    [extreme, 'extreme'],
    [treesHigh - extreme, 'high'],
    [treesModerate - treesHigh, 'moderate'],
  ] as const
  const said = parts.filter(([n]) => n > 0).map(([n, word]) => `${n.toLocaleString('en-GB')} ${word}`)
  return said.slice(0, 2).join(', ') || 'none'
}

/** `new`, `up from 1.2`; empty where nothing moved or there is nothing to compare with. */
export function sayChange(basis: Basis, { change, before }: Pick<Hotspot, 'change' | 'before'>): string {
  if (!change || change === 'same') return ''
  return change === 'new' || !before ? 'new' : `${change} from ${sayFigure(basis, before)}`
}

/** A zone's name; of a cell, the square of the atlas it lies in. */
export const sayName = (spot: Pick<Hotspot, 'zone' | 'place'>, squares: Squares): string =>
  spot.zone?.name ?? `In square ${squares.squareOf(spot.place[0], spot.place[1])}`

/** `0417, high; 3 more`: the tree named first, and how many others are rated moderate or more. */
export function sayWorst({ worst, treesModerate }: Pick<Hotspot, 'worst' | 'treesModerate'>): string {
  const [first] = worst
  if (!first) return ''
  const rest = treesModerate - (first.risk && first.risk !== 'low' ? 1 : 0)
  return `${first.tag}, ${first.risk ?? 'not yet rated'}${rest > 0 ? `; ${rest.toLocaleString('en-GB')} more` : ''}`
}

const monthNames =
  'January February March April May June July August September October November December'.split(' ')
/** The month before the one a day lies in: `October`. */
export const lastMonth = (day: string) => monthNames[(Number(day.slice(5, 7)) + 10) % 12]!
