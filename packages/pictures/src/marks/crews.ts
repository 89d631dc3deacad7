import { n, path, type Shape, shape } from '../draw/shape.ts'
import type { ColourToken } from '../palette/colours.ts'
import type { Paint } from '../palette/paint.ts'

/** How a crew's round is drawn: ink, dash and letter together, so that none has to carry it alone. */
export interface CrewLine {
  ink: ColourToken
  /** Dash and gap lengths, px; empty for a whole line. */
  dashPx: readonly number[]
  cap: 'butt' | 'round'
}

const inks = ['crew-a', 'crew-b', 'crew-c', 'crew-d'] as const
const dashes: readonly { dashPx: readonly number[]; cap: CrewLine['cap'] }[] = [
  { dashPx: [], cap: 'butt' },
  { dashPx: [10, 4], cap: 'butt' },
  { dashPx: [2, 4.2], cap: 'round' },
  { dashPx: [12, 3, 2, 3], cap: 'butt' },
]

/** Line of a crew, by its letter A to Z. A to P differ from one another without the letter; Q to Z only by it. Throws RangeError on anything else. */
export function crewLine(letter: string): CrewLine {
  if (!/^[A-Z]$/.test(letter)) throw new RangeError(`a crew has one letter from A to Z, not “${letter}”`)
  const place = letter.charCodeAt(0) - 65
  return { ink: inks[place % 4]!, ...dashes[(place + Math.floor(place / 4)) % 4]! }
}

/** Dash lengths as a map wants them: in widths of the line. */
export const dashInWidths = (dashPx: readonly number[], widthPx: number): number[] =>
  dashPx.map((length) => length / widthPx)

/** A way drawn in a crew's line on a bed of paper. */
export function crewLineShapes(d: string, letter: string, paint: Paint, widthPx = 2.6): Shape[] {
  const { ink, dashPx, cap } = crewLine(letter)
  return [
    path(d, {
      stroke: paint('paper'),
      'stroke-width': widthPx + 3,
      'stroke-linejoin': 'round',
      'stroke-linecap': 'round',
    }),
    path(d, {
      stroke: paint(ink),
      'stroke-width': widthPx,
      'stroke-linejoin': 'round',
      'stroke-linecap': cap,
      'stroke-dasharray': dashPx.length > 0 ? dashPx.join(' ') : undefined,
    }),
  ]
}

export interface CrewTagSpec {
  letter: string
  /** Place in the day's order, 1 for the first stop; null for the letter alone. */
  order: number | null
  /** Which side of the tree it hangs on. */
  side?: 'left' | 'right'
}

export const crewTagText = ({ letter, order }: CrewTagSpec): string => `${letter}${order ?? ''}`
/** Width of a tag with its point, px; its height is 13. */
export const crewTagWidthPx = (spec: CrewTagSpec): number => 12 + crewTagText(spec).length * 5.6

/** A luggage tag with its point at the origin. */
export function crewTagShapes(spec: CrewTagSpec, paint: Paint): Shape[] {
  const side = spec.side === 'left' ? -1 : 1
  const width = crewTagWidthPx(spec)
  const { ink } = crewLine(spec.letter)
  return [
    path(`M0 0L${5 * side} -6.5H${n(width * side)}V6.5H${5 * side}Z`, {
      fill: paint(ink),
      stroke: paint('paper'),
      'stroke-width': 1.2,
    }),
    shape(
      'text',
      {
        x: side * (width / 2 + 2),
        y: 3.9,
        'text-anchor': 'middle',
        'font-family': 'Source Sans 3, sans-serif',
        'font-size': 11,
        'font-weight': 700,
        fill: paint('paper'),
      },
      [crewTagText(spec)],
    ),
  ]
}
