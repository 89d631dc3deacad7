/** A mark drawn on a copy: where it begins and ends, as shares of the picture's width and height. */
export interface Mark {
  tool: MarkTool
  from: Place
  to: Place
}
export type MarkTool = 'arrow' | 'ring'
export type Place = readonly [x: number, y: number]

/** Barbs of an arrow: their length as a share of the shorter side, and their angle off the shaft. */
const BARB_SHARE = 0.08
const BARB_RAD = (28 * Math.PI) / 180
const PEN_SHARE = 0.009
const LEAST_PEN_PX = 3
/** A ring no smaller than this can be seen, as a share of the shorter side. */
const LEAST_RING_SHARE = 0.03

export const within = ([x, y]: Place): Place => [Math.min(1, Math.max(0, x)), Math.min(1, Math.max(0, y))]

/** The line of a mark over a picture of this size in pixels, as an SVG path (for the screen and for the copy alike). */
export function pathOf(mark: Mark, width: number, height: number): string {
  const [x1, y1] = [mark.from[0] * width, mark.from[1] * height]
  const [x2, y2] = [mark.to[0] * width, mark.to[1] * height]
  return mark.tool === 'arrow'
    ? arrow(x1, y1, x2, y2, BARB_SHARE * Math.min(width, height))
    : ring(x1, y1, x2, y2, LEAST_RING_SHARE * Math.min(width, height))
}
/** How thick it is drawn, pixels; its casing is twice that. */
export const penPx = (width: number, height: number) =>
  Math.max(LEAST_PEN_PX, PEN_SHARE * Math.min(width, height))

function arrow(x1: number, y1: number, x2: number, y2: number, barb: number): string {
  const back = Math.atan2(y1 - y2, x1 - x2)
  const tip = (turn: number) =>
    `${px(x2 + barb * Math.cos(back + turn))} ${px(y2 + barb * Math.sin(back + turn))}`
  return `M${px(x1)} ${px(y1)} L${px(x2)} ${px(y2)} M${tip(BARB_RAD)} L${px(x2)} ${px(y2)} L${tip(-BARB_RAD)}`
}
/** An ellipse in the box between the two places. */
function ring(x1: number, y1: number, x2: number, y2: number, least: number): string {
  const [rx, ry] = [Math.max(least, Math.abs(x2 - x1) / 2), Math.max(least, Math.abs(y2 - y1) / 2)]
  const [cx, cy] = [(x1 + x2) / 2, (y1 + y2) / 2]
  const half = (side: 1 | -1) => `A${px(rx)} ${px(ry)} 0 1 1 ${px(cx + side * rx)} ${px(cy)}`
  return `M${px(cx - rx)} ${px(cy)} ${half(1)} ${half(-1)} Z`
}
const px = (n: number) => Number(n.toFixed(1))

/** Light line in a dark casing: seen on bark, on leaves and against the sky, and in grey. */
export const markInk = { line: '#fff7d6', casing: '#1d1511' } as const

/** Draws marks onto a copy. */
export function drawMarks(marks: readonly Mark[]) {
  return (pen: CanvasRenderingContext2D, width: number, height: number) => {
    pen.lineCap = 'round'
    pen.lineJoin = 'round'
    const thick = penPx(width, height)
    for (const mark of marks) {
      const line = new Path2D(pathOf(mark, width, height))
      pen.strokeStyle = markInk.casing
      pen.lineWidth = thick * 2
      pen.stroke(line)
      pen.strokeStyle = markInk.line
      pen.lineWidth = thick
      pen.stroke(line)
    }
  }
}
