import { createContext, type ReactNode, useContext, useId } from 'react'
import type { ColourToken } from '../palette/colours.ts'
import { cssPaint } from '../palette/paint.ts'
import { n } from './shape.ts'

const TextScale = createContext(1)

/** What every picture takes. */
export interface PictureProps {
  /** Drawn width, px; the drawing fits itself to it. */
  widthPx?: number
  /** Sizes of all words in the drawing against the desk's 12 px: 1.34 on a phone (16 px). */
  textScale?: number
}

/** The sheet a picture is drawn on. Its text equivalent says what the drawing shows; a picture with parts to press is a group. */
export function Picture(props: {
  widthPx: number
  heightPx: number
  says: string
  pressable?: boolean
  textScale?: number
  children: ReactNode
}) {
  const { widthPx, heightPx, says, pressable = false, textScale = 1, children } = props
  return (
    <TextScale value={textScale}>
      <svg
        xmlns="http://www.w3.org/2000/svg"
        viewBox={`0 0 ${n(widthPx)} ${n(heightPx)}`}
        width={n(widthPx)}
        height={n(heightPx)}
        role={pressable ? 'group' : 'img'}
        aria-label={says}
        style={{ fontFamily: 'var(--face)', maxWidth: '100%', height: 'auto' }}
      >
        {children}
      </svg>
    </TextScale>
  )
}

interface WordsProps {
  x: number
  y: number
  anchor?: 'start' | 'middle' | 'end'
  /** px before the picture's text scale. */
  size?: number
  tone?: ColourToken
  firm?: boolean
  italic?: boolean
  /** Paper behind the letters, where they stand on a drawing. */
  halo?: boolean
  children: ReactNode
}

/** Words in a drawing. */
export function Words({ x, y, anchor, size = 12, tone = 'ink-2', firm, italic, halo, children }: WordsProps) {
  const scale = useContext(TextScale)
  return (
    <text
      x={n(x)}
      y={n(y)}
      fontSize={n(size * scale)}
      fill={cssPaint(tone)}
      textAnchor={anchor}
      fontWeight={firm ? 600 : undefined}
      fontStyle={italic ? 'italic' : undefined}
      {...(halo && {
        stroke: 'var(--paper)',
        strokeWidth: 3,
        strokeLinejoin: 'round' as const,
        paintOrder: 'stroke',
      })}
    >
      {children}
    </text>
  )
}

interface LineProps {
  from: readonly [number, number]
  to: readonly [number, number]
  tone?: ColourToken
  width?: number
  dash?: string
}

export function Line({ from, to, tone = 'ink', width = 1, dash }: LineProps) {
  return (
    <path
      d={`M${n(from[0])} ${n(from[1])}L${n(to[0])} ${n(to[1])}`}
      fill="none"
      stroke={cssPaint(tone)}
      strokeWidth={n(width)}
      strokeDasharray={dash}
    />
  )
}

/** An id prefix of this picture's own, for its patterns. */
export const usePrefix = (): string => useId().replace(/[^a-zA-Z0-9_-]/g, '')
