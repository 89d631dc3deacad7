import type { WoodCondition } from '@underbough/model'
import { Picture, usePrefix } from '../draw/picture.tsx'

/** What a strip of a reading may show: wood of a condition, bark, or what nobody read. */
export type WoodFill = WoodCondition | 'bark' | 'unread'

export const woodNames: Readonly<Record<WoodFill, string>> = {
  sound: 'sound',
  stained: 'stained, firm',
  'softened-brittle': 'softened, brittle',
  'softened-fibrous': 'softened, fibrous',
  void: 'missing or hollow',
  bark: 'bark',
  unread: 'not read: nobody knows',
}
const fills = Object.keys(woodNames) as WoodFill[]

export const woodFill = (prefix: string, fill: WoodFill): string => `url(#${prefix}-w-${fill})`

/** Wood told apart by pattern as well as by colour: grain, stain, cracks across, threads along, dots for what is missing, hatch for what was not read. */
export function WoodPatterns({ prefix }: { prefix: string }) {
  return (
    <defs>
      <pattern id={`${prefix}-w-sound`} width={8} height={8} patternUnits="userSpaceOnUse">
        <rect width={8} height={8} fill="var(--wood-sound)" />
        <path d="M2 0V8M6 0V8" stroke="var(--wood-line)" strokeWidth={0.5} opacity={0.5} />
      </pattern>
      <pattern id={`${prefix}-w-stained`} width={8} height={8} patternUnits="userSpaceOnUse">
        <rect width={8} height={8} fill="var(--wood-sound)" />
        <path d="M0 8L8 0M-2 2L2 -2M6 10L10 6" stroke="var(--wood-line)" strokeWidth={2} opacity={0.65} />
      </pattern>
      <pattern id={`${prefix}-w-softened-brittle`} width={7} height={7} patternUnits="userSpaceOnUse">
        <rect width={7} height={7} fill="var(--wood-soft)" />
        <path d="M0 3.5H7M3.5 0V3.5M0 0V0M1 3.5V7" stroke="var(--ink)" strokeWidth={0.9} />
      </pattern>
      <pattern id={`${prefix}-w-softened-fibrous`} width={8} height={6} patternUnits="userSpaceOnUse">
        <rect width={8} height={6} fill="var(--wood-soft)" />
        <path
          d="M0 1.5Q2 0 4 1.5T8 1.5M0 4.5Q2 3 4 4.5T8 4.5"
          fill="none"
          stroke="var(--ink)"
          strokeWidth={0.9}
        />
      </pattern>
      <pattern id={`${prefix}-w-void`} width={6} height={6} patternUnits="userSpaceOnUse">
        <rect width={6} height={6} fill="var(--wood-void)" />
      </pattern>
      <pattern id={`${prefix}-w-bark`} width={4} height={4} patternUnits="userSpaceOnUse">
        <rect width={4} height={4} fill="var(--wood-bark)" />
      </pattern>
      <pattern id={`${prefix}-w-unread`} width={6} height={6} patternUnits="userSpaceOnUse">
        <rect width={6} height={6} fill="var(--sunk)" />
        <path d="M0 6L6 0M-1 1L1 -1M5 7L7 5" stroke="var(--edge)" strokeWidth={0.8} />
      </pattern>
    </defs>
  )
}

/** One swatch of wood, for keys and buttons. */
export function WoodSwatch({
  fill,
  widthPx = 26,
  heightPx = 16,
}: {
  fill: WoodFill
  widthPx?: number
  heightPx?: number
}) {
  const prefix = usePrefix()
  return (
    <Picture widthPx={widthPx} heightPx={heightPx} says={woodNames[fill]}>
      <WoodPatterns prefix={prefix} />
      <rect
        x={0.5}
        y={0.5}
        width={widthPx - 1}
        height={heightPx - 1}
        fill={woodFill(prefix, fill)}
        stroke="var(--ink)"
        strokeWidth={1}
      />
    </Picture>
  )
}

/** What the patterns mean; `only` leaves out those that a drawing does not hold. */
export function WoodKey({ only = fills }: { only?: readonly WoodFill[] }) {
  return (
    <ul className="wood-key">
      {fills
        .filter((fill) => only.includes(fill))
        .map((fill) => (
          <li key={fill}>
            <span aria-hidden="true">
              <WoodSwatch fill={fill} />
            </span>{' '}
            {woodNames[fill]}
          </li>
        ))}
    </ul>
  )
}
