/** An arc of bearings, clockwise from one to the other; from a bearing to itself it goes all the way round. */
export interface Arc {
  fromBearingDeg: number
  toBearingDeg: number
}
export const sectorCount = 16
const sectorDeg = 360 / sectorCount

/** The sixteenth of the circle about bearing `sector` × 22.5°. */
export const sectorArc = (sector: number): Arc => ({
  fromBearingDeg: round(sector * sectorDeg - sectorDeg / 2),
  toBearingDeg: round(sector * sectorDeg + sectorDeg / 2),
})
/** Whether the middle of a sector lies within one of the arcs. */
export const holdsSector = (arcs: readonly Arc[], sector: number): boolean =>
  arcs.some((arc) => round(sector * sectorDeg - arc.fromBearingDeg) <= width(arc))

/** The arcs with one more; arcs that meet become one. */
export const withArc = (arcs: readonly Arc[], arc: Arc): Arc[] => joined([...arcs, arc].flatMap(unrolled))

/** The arcs with a part taken out. */
export function withoutArc(arcs: readonly Arc[], arc: Arc): Arc[] {
  const holes = unrolled(arc)
  return joined(
    arcs
      .flatMap(unrolled)
      .flatMap((span) =>
        holes.reduce<Span[]>(
          (left, [from, to]) =>
            left.flatMap(([a, b]): Span[] =>
              to <= a || from >= b
                ? [[a, b]]
                : [...(from > a ? [[a, from] as Span] : []), ...(to < b ? [[to, b] as Span] : [])],
            ),
          [span],
        ),
      ),
  )
}

type Span = [number, number]
const round = (deg: number) => ((deg % 360) + 360) % 360
const width = (arc: Arc) => round(arc.toBearingDeg - arc.fromBearingDeg) || 360

/** An arc as spans of 0 to 360, cut at north. */
function unrolled(arc: Arc): Span[] {
  const to = arc.fromBearingDeg + width(arc)
  return to <= 360
    ? [[arc.fromBearingDeg, to]]
    : [
        [arc.fromBearingDeg, 360],
        [0, to - 360],
      ]
}

function joined(spans: readonly Span[]): Arc[] {
  const out: Span[] = []
  for (const [from, to] of [...spans].sort((a, b) => a[0] - b[0])) {
    const last = out.at(-1)
    if (last && from <= last[1] + 1e-9) last[1] = Math.max(last[1], to)
    else out.push([from, to])
  }
  const first = out[0]
  const last = out.at(-1)
  if (first && last && out.length > 1 && first[0] === 0 && last[1] === 360) {
    out.shift()
    last[1] = first[1]
  }
  return out.map(([from, to]) => ({ fromBearingDeg: round(from), toBearingDeg: round(to) }))
}
