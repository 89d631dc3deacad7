import { done, type Outcome, type Refusal, refusal, refused } from '@underbough/model'
import { sectionModuli } from '../plane/modulus.ts'
import { drawsFrom } from '../random.ts'
import { joined } from './around.ts'
import { drawWalls, type WallDatum } from './field.ts'
import { limitsOf, notAssessedOf, sayable, thinnestOf } from './limits.ts'
import { openingsOf } from './openings.ts'
import { outlineOf } from './outline.ts'
import { type FarWall, placeCut, placeReading } from './place.ts'
import type { PlacedReading, Section, SectionInput, Shares } from './types.ts'
import { slicesOf, wallSection } from './wall.ts'

/** Raised when the way a section is computed changes; a stored section keeps the one it was made with. */
export const sectionMethodVersion = 'section-1'

const STEP_DEG = 3
const DRAWS = 200

/**
 * The section of a stem from readings at one height. How much is said depends on their number: up to three give the wall at each reading
 * and no figure; four or five a range; six or more, evenly round with no gap over 75°, the 5, 50 and 95 % figures of the drawn walls. An
 * opening without both edges and its depth gives no figure.
 *
 * Codes: `reading-past-stem`, `reading-past-radius`, `reading-misses-stem`, `outline-crosses-itself`, `out-of-range`.
 */
export function sectionOf(input: SectionInput): Outcome<Section> {
  const outlined = outlineOf(input.outline, input.readings)
  if (!outlined.ok) return outlined
  const outline = outlined.value
  const notes: Refusal[] = []
  const refusals: Refusal[] = []
  const readings: PlacedReading[] = []
  const fars: FarWall[] = []
  for (const one of input.readings) {
    const placed = placeReading(one, outline)
    if (!placed.ok) refusals.push(...placed.refusals)
    else if (placed.value.begunLate)
      notes.push(
        refusal('value-blank', `readings.${one.label}.segments`, {
          message: `${one.label} is drawn and not counted: nothing is entered between its bark and its first segment.`,
        }),
      )
    else {
      readings.push(placed.value.reading)
      if (placed.value.far) fars.push(placed.value.far)
    }
  }
  for (const one of input.cutWalls) {
    const placed = placeCut(one, outline)
    if (placed.ok) readings.push(placed.value)
    else refusals.push(...placed.refusals)
  }
  const opened = openingsOf(input.openings, outline)
  refusals.push(...opened.refusals)
  if (refusals.length > 0) return refused(...refusals)

  const slices = slicesOf(STEP_DEG, opened.cuts)
  const { bearingsDeg } = slices
  const onGrid = bearingsDeg.flatMap((b, i) => (b % STEP_DEG === 0 ? [i] : []))
  const woodCm = bearingsDeg.map((b) => outline.wood(b))
  const firmCm = firmOutside(readings, woodCm, bearingsDeg)
  const meanRadius = onGrid.reduce((sum, i) => sum + woodCm[i]!, 0) / onGrid.length
  const said = sayable(readings, opened.openings)
  const base: Section = {
    methodVersion: sectionMethodVersion,
    heightM: input.heightM,
    seed: input.seed,
    draws: said.says === 'walls' ? 0 : (input.draws ?? DRAWS),
    stepDeg: STEP_DEG,
    outline: {
      basis: outline.basis,
      outerCm: onGrid.map((i) => outline.outer(bearingsDeg[i]!)),
      woodCm: onGrid.map((i) => woodCm[i]!),
      meanWoodRadiusCm: meanRadius,
    },
    readings,
    openings: opened.openings,
    ...said,
    wallCm: null,
    share: null,
    rose: null,
    weakestBearingDeg: null,
    areaShare: null,
    centroid: null,
    thinnestTOverR: null,
    bendingOnly: false,
    notAssessed: [],
    assumptions: [...outline.assumptions, ...assumptionsOf(readings, said.says)],
    notes,
  }
  const finish = (section: Section): Outcome<Section> => {
    const thinnest = thinnestOf(section)
    const whole = { ...section, thinnestTOverR: thinnest, ...limitsOf(thinnest) }
    return done({ ...whole, notAssessed: notAssessedOf(whole, input.crownRadiiM) }, notes)
  }
  if (said.says === 'walls') return finish(base)

  const data: WallDatum[] = [
    ...readings,
    ...fars.map((far) => ({ ...far, censored: false })),
    ...opened.edges.map((edge) => ({ ...edge, censored: false })),
  ]
  const walls = drawWalls(data, bearingsDeg, firmCm, meanRadius, base.draws, drawsFrom(input.seed))
  const bend = Array.from({ length: 180 / STEP_DEG }, (_, i) => i * STEP_DEG)
  const whole = wallSection(slicesOf(STEP_DEG, []), base.outline.woodCm, null)!
  const sound = sectionModuli(whole.moments, whole.corners, bend)
  const shares = walls.map((wall) => {
    const left = wallSection(slices, firmCm, wall)
    return left
      ? sectionModuli(left.moments, left.corners, bend).map((z, i) => z / sound[i]!)
      : new Float64Array(bend.length)
  })
  const least = quantiles(shares.map((one) => one.reduce((a, b) => Math.min(a, b))))
  const drawn = bearingsDeg.map((_, i) => quantiles(walls.map((wall) => wall[i]!)))
  const cautious = onGrid.map((i) => drawn[i]!.p05)
  if (said.says === 'range')
    return finish({
      ...base,
      wallCm: { median: null, cautious },
      share: { p05: least.p05, p50: null, p95: least.p95 },
    })
  const half = bend.map((_, i) => quantiles(shares.map((one) => one[i]!)))
  const left = wallSection(
    slices,
    firmCm,
    drawn.map((q) => q.p50),
  )
  return finish({
    ...base,
    wallCm: { median: onGrid.map((i) => drawn[i]!.p50), cautious },
    share: least,
    rose: [...half, ...half],
    weakestBearingDeg: bend[half.reduce((best, q, i) => (q.p50 < half[best]!.p50 ? i : best), 0)]!,
    areaShare: left ? left.moments.area / whole.moments.area : 0,
    centroid: left ? left.moments.centroid : null,
  })
}

/** Outside of the firm wood: softened wood under the bark is taken off, between readings along a straight line. */
function firmOutside(
  readings: readonly PlacedReading[],
  woodCm: readonly number[],
  bearingsDeg: readonly number[],
): number[] {
  const lost = joined(
    readings.map((one) => ({ bearingDeg: one.bearingDeg, value: one.outerLossCm })),
    0,
  )
  return woodCm.map((wood, i) => Math.max(0, wood - lost(bearingsDeg[i]!)))
}

function assumptionsOf(readings: readonly PlacedReading[], says: Section['says']): string[] {
  const out: string[] = []
  if (readings.some((one) => one.segments.some((segment) => segment.condition === 'stained')))
    out.push('Stained wood is counted as firm.')
  if (readings.some((one) => one.outerLossCm > 0))
    out.push(
      'Softened wood under the bark is taken off all the way between two readings, in a straight line.',
    )
  if (says !== 'walls') {
    out.push(
      'Between readings the wall is drawn 200 times as a smooth random field that agrees with them; a reading may err by 1 cm and 3 % of the radius.',
    )
    if (readings.some((one) => one.censored))
      out.push(
        'A reading that stopped in firm wood counts as “at least”; what lies behind it is drawn, not assumed sound.',
      )
  }
  return out
}

/** The 5, 50 and 95 % of values: nearest rank, so that each is one of the draws. */
function quantiles(values: readonly number[]): Shares {
  const sorted = Float64Array.from(values).sort()
  const rank = (p: number) => sorted[Math.round(p * (sorted.length - 1))]!
  return { p05: rank(0.05), p50: rank(0.5), p95: rank(0.95) }
}
