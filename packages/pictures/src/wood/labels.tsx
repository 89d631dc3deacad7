import { Line, Words } from '../draw/picture.tsx'
import { wordsWidth } from '../draw/say.ts'
import type { ColourToken } from '../palette/colours.ts'

export interface LabelLine {
  text: string
  firm?: boolean
  italic?: boolean
  tone?: ColourToken
}
export interface RoundLabel {
  /** Where it points, px. */
  from: readonly [number, number]
  /** Where it would stand, px. */
  x: number
  y: number
  lines: readonly LabelLine[]
}
interface Placed extends RoundLabel {
  side: 'left' | 'right'
  top: number
  height: number
}

/** Labels round a drawing, left and right of its middle, pushed apart until none covers another. */
export function placeLabels(
  labels: readonly RoundLabel[],
  box: { middleX: number; top: number; bottom: number; left: number; right: number },
  linePx: number,
): Placed[] {
  const out: Placed[] = []
  for (const side of ['left', 'right'] as const) {
    const here = labels
      .filter((one) => (one.x < box.middleX ? 'left' : 'right') === side)
      .map((one): Placed => {
        const height = one.lines.length * linePx
        return { ...one, side, height, top: one.y - height / 2 }
      })
      .sort((a, b) => a.top - b.top)
    let free = box.top
    for (const one of here) {
      one.top = Math.max(one.top, free)
      free = one.top + one.height + 3
    }
    let end = box.bottom
    for (const one of [...here].reverse()) {
      one.top = Math.min(one.top, end - one.height)
      end = one.top - 3
    }
    for (const one of here) {
      const width = Math.max(...one.lines.map((line) => wordsWidth(line.text, (linePx / 14) * 12, line.firm)))
      one.x = side === 'right' ? Math.min(one.x, box.right - width) : Math.max(one.x, box.left + width)
    }
    out.push(...here)
  }
  return out
}

export function RoundLabels({ labels, linePx }: { labels: readonly Placed[]; linePx: number }) {
  return labels.map((one) => {
    const middle = one.top + one.height / 2
    const end: [number, number] = [one.side === 'right' ? one.x - 3 : one.x + 3, middle]
    return (
      <g key={one.lines.map((line) => line.text).join('|')} data-part="label">
        <Line from={one.from} to={end} tone="ink-3" width={0.7} />
        {one.lines.map((line, i) => (
          <Words
            key={line.text}
            x={one.x}
            y={one.top + linePx * (i + 0.8)}
            anchor={one.side === 'right' ? 'start' : 'end'}
            tone={line.tone ?? (line.firm ? 'ink' : 'ink-2')}
            firm={line.firm}
            italic={line.italic}
            halo
          >
            {line.text}
          </Words>
        ))}
      </g>
    )
  })
}
