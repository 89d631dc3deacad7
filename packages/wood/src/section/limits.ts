import { clockwise } from './around.ts'
import type {
  PlacedOpening,
  PlacedReading,
  Section,
  SectionInput,
  SectionLimit,
  SectionSays,
} from './types.ts'

/** Widest gap between two readings that still lets figures be given, degrees. */
export const widestGapDeg = 75
/** Readings from which a range, and from which figures, may be given. */
export const readingsForRange = 4
export const readingsForFigures = 6
/**
 * Wall over radius under which bending may not be what governs: Huang et al. 2017 (PMC5414253) found splitting between 0.06 and 0.27 and
 * buckling below, in closed sections of one species; up to 0.30 is kept as a margin.
 */
export const bendingOnlyBelow = 0.3

/** How much may be said, and what keeps it from being more. */
export function sayable(
  readings: readonly PlacedReading[],
  openings: readonly PlacedOpening[],
): { says: SectionSays; limits: SectionLimit[]; widestGapDeg: number } {
  const gap = widestGap([
    ...readings.map((one) => one.bearingDeg),
    ...openings.filter((one) => one.complete).flatMap((one) => [one.fromBearingDeg, one.toBearingDeg]),
  ])
  const limits: SectionLimit[] = []
  if (openings.some((one) => !one.complete)) limits.push('opening-incomplete')
  if (readings.length < readingsForFigures) limits.push('few-readings')
  if (gap > widestGapDeg + 1e-9) limits.push('gap')
  const says =
    limits.includes('opening-incomplete') || readings.length < readingsForRange
      ? 'walls'
      : limits.length > 0
        ? 'range'
        : 'figures'
  return { says, limits, widestGapDeg: gap }
}

function widestGap(bearings: readonly number[]): number {
  if (bearings.length < 2) return 360
  const sorted = [...bearings].sort((a, b) => a - b)
  return Math.max(
    ...sorted.map((b, i) => (i + 1 < sorted.length ? sorted[i + 1]! - b : clockwise(b, sorted[0]!))),
  )
}

/** Thinnest wall over radius that was found: of the readings whose wall ended, and of the walls at the edges of openings. */
export function thinnestOf(section: Section): Section['thinnestTOverR'] {
  const found: { value: number; at: string }[] = section.readings.map((one) => ({
    value: one.tOverR,
    at: one.censored ? `${one.label}, at least` : one.label,
  }))
  for (const one of section.openings) {
    if (!one.edgeWallsCm) continue
    for (const side of ['from', 'to'] as const) {
      const bearing = side === 'from' ? one.fromBearingDeg : one.toBearingDeg
      const radius =
        section.outline.woodCm[Math.round(bearing / section.stepDeg) % section.outline.woodCm.length]!
      found.push({ value: one.edgeWallsCm[side] / radius, at: `edge at ${Math.round(bearing)}°` })
    }
  }
  const sure = found.filter((one) => !one.at.endsWith('at least'))
  const among = sure.length > 0 ? sure : found
  return among.length === 0 ? null : among.reduce((a, b) => (b.value < a.value ? b : a))
}

export const limitsOf = (thinnest: Section['thinnestTOverR']) => ({
  bendingOnly: thinnest !== null && thinnest.value < bendingOnlyBelow,
})

/**
 * Twisting stiffness of a thin round wall slit open over that of the same wall closed, from wall over radius: (⅓·2πRₘt³) over
 * (π/2)(R⁴−r⁴), Rₘ the middle radius (thin-wall theory, Saint-Venant).
 */
export function torsionOpenOverClosed(tOverR: number): number {
  return (2 * Math.PI * (1 - tOverR / 2) * tOverR ** 3) / 3 / ((Math.PI / 2) * (1 - (1 - tOverR) ** 4))
}

/** Opposite crown radii this much apart make a crown one-sided (assumption). */
const ONE_SIDED = 1.5

/** What the section leaves out. */
export function notAssessedOf(section: Section, crown: SectionInput['crownRadiiM']): string[] {
  const out: string[] = []
  if (section.bendingOnly)
    out.push(
      `Bending only: at ${section.thinnestTOverR!.at} the wall is ${section.thinnestTOverR!.value.toFixed(2)} of the radius. Below about 0.27 to 0.30 splitting or buckling may come first, and neither is assessed.`,
    )
  if (section.openings.length > 0) {
    const oneSided =
      crown !== null &&
      [
        [crown.n, crown.s],
        [crown.e, crown.w],
      ].some(([a, b]) => Math.max(a!, b!) > ONE_SIDED * Math.min(a!, b!))
    const left = section.thinnestTOverR
      ? ` A slit leaves a thin wall of this kind about ${Math.max(0.1, 100 * torsionOpenOverClosed(Math.min(1, section.thinnestTOverR.value))).toFixed(section.thinnestTOverR.value < 0.2 ? 1 : 0)} % of its stiffness against twisting.`
      : ''
    out.push(
      oneSided
        ? `Torsion not assessed: the crown is one-sided and the stem is open, so wind twists it.${left}`
        : `Torsion not assessed: the stem is open.${left}`,
    )
  } else out.push('Torsion not assessed.')
  out.push(
    'Cracks, bark included in unions, reaction wood, the root plate, unions and branches are not assessed.',
    `Other heights than ${section.heightM} m are not assessed.`,
  )
  return out
}
