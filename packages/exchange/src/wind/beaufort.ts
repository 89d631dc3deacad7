/**
 * The Beaufort scale by the lower edge of each force, miles per hour, and what the trade's tables say of trees from force 7
 * (https://docslib.org/doc/7035220). The scale is of the mean wind; a gust says only what a steady wind of that speed would be.
 */
const lowerEdgesMph = [0, 1, 4, 8, 13, 19, 25, 32, 39, 47, 55, 64, 74] as const
const effects: Record<number, string> = {
  7: 'whole trees in motion',
  8: 'twigs break off',
  9: 'branches break',
  10: 'trees are uprooted',
}
const MPS_PER_MPH = 0.44704

/** Force of a steady wind, 0 to 12, by its speed rounded to whole miles per hour as the scale is printed, and what it does to trees. */
export function beaufortOf(speedMps: number): { force: number; effect: string | null } {
  const mph = Math.round(speedMps / MPS_PER_MPH)
  const force = lowerEdgesMph.findLastIndex((edge) => mph >= edge)
  return { force: Math.max(0, force), effect: effects[force] ?? null }
}

/** Lower edge of a force, metres per second. Throws RangeError beyond 0 to 12. */
export function beaufortFromMps(force: number): number {
  const edge = lowerEdgesMph[force]
  if (edge === undefined) throw new RangeError('forces run from 0 to 12')
  return edge * MPS_PER_MPH
}
