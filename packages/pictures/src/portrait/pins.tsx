import { radians } from '../draw/geometry.ts'
import { Line, Words } from '../draw/picture.tsx'
import { n } from '../draw/shape.ts'
import type { Drawn } from './dimensions.ts'
import { type Frame, placer } from './frame.ts'
import type { PortraitFinding } from './types.ts'

const BOX = 15
const GAP = 18

export interface Pin {
  finding: PortraitFinding
  x: number
  y: number
  boxX: number
  boxY: number
}

/** Where each finding is pinned and where its number stands: on its own side, numbers kept apart. A finding without a height stays unpinned. */
export function pinsOf(
  findings: readonly PortraitFinding[],
  tree: Drawn,
  frame: Frame,
  groundPx: number,
  small: boolean,
): Pin[] {
  const place = placer(frame, groundPx)
  const half = Math.max(1, (tree.stemM / 2) * frame.pxPerM)
  const pins = findings
    .filter((finding) => finding.heightM !== null)
    .map((finding): Pin => {
      const heightM = Math.min(finding.heightM!, tree.heightM)
      const off = finding.bearingDeg === null ? 0 : Math.sin(radians(finding.bearingDeg))
      const [axis, y] = place(tree.axisM(heightM), heightM)
      const x = axis + (finding.outM ? finding.outM * off * frame.pxPerM : off * half)
      const side = off < -0.001 ? -1 : 1
      const clear = Math.max(22, (side < 0 ? tree.westM : tree.eastM) * 0.74 * frame.pxPerM)
      const column = small ? x + side * 14 : frame.footPx + side * clear
      return { finding, x, y, boxX: side < 0 ? Math.min(column, x - 16) : Math.max(column, x + 16), boxY: y }
    })
  for (const side of [-1, 1])
    spread(
      pins.filter((pin) => Math.sign(pin.boxX - pin.x) === side),
      groundPx,
    )
  return pins
}

/** Keeps the numbers of one side apart, upwards from the ground. */
function spread(pins: Pin[], groundPx: number) {
  let free = groundPx - BOX / 2 - 2
  for (const pin of [...pins].sort((a, b) => b.y - a.y)) {
    pin.boxY = Math.min(pin.y, free)
    free = pin.boxY - GAP
  }
}

export function Pins({ pins }: { pins: readonly Pin[] }) {
  return pins.map(({ finding, x, y, boxX, boxY }) => (
    <g key={finding.number}>
      <Line from={[x, y]} to={[boxX, boxY]} width={0.8} />
      <circle cx={n(x)} cy={n(y)} r={2} fill="var(--ink)" />
      <rect
        x={n(boxX - 7)}
        y={n(boxY - BOX / 2)}
        width={finding.number > 9 ? 19 : 14}
        height={BOX}
        fill="var(--paper)"
        stroke="var(--ink)"
      />
      <Words x={boxX + (finding.number > 9 ? 2.5 : 0)} y={boxY + 4.2} anchor="middle" tone="ink" firm>
        {finding.number}
      </Words>
    </g>
  ))
}
