import { type ZoneKind, zoneKinds } from '@underbough/model'
import { zoneLines, zoneTilePx, zoneTileShapes } from '../marks/zones.ts'
import { cssPaint } from '../palette/paint.ts'
import { Shapes } from './shape-view.tsx'

/** `not-seen`: hatch on sunk paper. `light`: hatch on nothing, for what may lie there. */
export type Hatch = 'not-seen' | 'light'

/** The patterns of one picture, under its own prefix. */
export function Patterns({
  prefix,
  zones = [],
  hatches = [],
}: {
  prefix: string
  zones?: readonly ZoneKind[]
  hatches?: readonly Hatch[]
}) {
  return (
    <defs>
      {zoneKinds
        .filter((kind) => zones.includes(kind))
        .map((kind) => (
          <pattern
            key={kind}
            id={`${prefix}-${kind}`}
            width={zoneTilePx}
            height={zoneTilePx}
            patternUnits="userSpaceOnUse"
          >
            <Shapes of={zoneTileShapes(kind, cssPaint)} />
          </pattern>
        ))}
      {hatches.includes('not-seen') && (
        <pattern id={`${prefix}-not-seen`} width={6} height={6} patternUnits="userSpaceOnUse">
          <rect width={6} height={6} fill="var(--sunk)" />
          <path d="M0 6L6 0M-1 1L1 -1M5 7L7 5" stroke="var(--edge)" strokeWidth={0.8} />
        </pattern>
      )}
      {hatches.includes('light') && (
        <pattern id={`${prefix}-light`} width={4} height={4} patternUnits="userSpaceOnUse">
          <path d="M0 4L4 0" stroke="var(--ink-3)" strokeWidth={0.6} opacity={0.5} />
        </pattern>
      )}
    </defs>
  )
}

export const filled = (prefix: string, name: ZoneKind | Hatch): string => `url(#${prefix}-${name})`

/** A zone's outline and pattern. */
export function ZonePath({ d, kind, prefix }: { d: string; kind: ZoneKind; prefix: string }) {
  const { widthPx, dashPx } = zoneLines[kind]
  return (
    <path
      d={d}
      fill={filled(prefix, kind)}
      stroke="var(--zone-ink)"
      strokeWidth={widthPx}
      strokeDasharray={dashPx.join(' ') || undefined}
    />
  )
}
