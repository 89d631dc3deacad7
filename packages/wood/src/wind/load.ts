import { done, type Outcome, refused } from '@underbough/model'
import { outside } from '../limits.ts'
import { type AreaKind, type DragMark, type DragRecord, dragAt, dragFor, type LeafState } from './drag.ts'
import { type Wind, windPressurePa } from './pressure.ts'
import { airDensityKgM3 } from './terrain.ts'

/** What the wind meets above a section: the crown as an ellipse from its base to the top, and the bare stem as a strip. */
export interface WindShape {
  heightM: number
  crownBaseM: number
  meanCrownRadiusM: number
  areaKind: AreaKind
  leaf: LeafState
  /** Height of the section. */
  sectionHeightM: number
  /** Width of the strip from the section up to the crown. */
  stemDiameterCm: number
}

/** Load above a section, by part. */
export interface WindLoad {
  crownAreaM2: number
  crownForceN: number
  crownMomentNm: number
  stemForceN: number
  stemMomentNm: number
  /** About the section. */
  momentNm: number
  dragMark: DragMark
}

/** `A`: drag of a round stem, as of any rough round rod (engineering handbooks, from memory). */
export const stemDragCoefficient = 1

/** Slices of each part; the ellipse by its angle, where the integrand is smooth. */
const slices = 200

interface Strip {
  fromM: number
  toM: number
  /** Height and width × dz at a share 0..1 of the way. */
  at: (t: number) => { zM: number; areaM2: number }
}

function crownStrip(shape: WindShape): Strip {
  const { heightM, crownBaseM, meanCrownRadiusM, sectionHeightM } = shape
  const middle = (heightM + crownBaseM) / 2
  const half = (heightM - crownBaseM) / 2
  const fromM = Math.max(crownBaseM, sectionHeightM)
  const start = Math.asin(Math.max(-1, Math.min(1, (fromM - middle) / half)))
  const span = Math.PI / 2 - start
  return {
    fromM,
    toM: heightM,
    at: (t) => {
      const angle = start + span * t
      const areaM2 = 2 * meanCrownRadiusM * half * Math.cos(angle) ** 2 * span
      return { zM: middle + half * Math.sin(angle), areaM2 }
    },
  }
}

function stemStrip({ sectionHeightM, crownBaseM, stemDiameterCm }: WindShape): Strip {
  const length = Math.max(0, crownBaseM - sectionHeightM)
  const areaM2 = (length * stemDiameterCm) / 100
  return {
    fromM: sectionHeightM,
    toM: crownBaseM,
    at: (t) => ({ zM: sectionHeightM + length * t, areaM2 }),
  }
}

/** Area, ∫q b dz and ∫q b (z − h) dz over a strip, by Simpson's rule. */
function integrate(strip: Strip, wind: Wind, sectionHeightM: number) {
  let areaM2 = 0
  let forceN = 0
  let momentNm = 0
  for (let i = 0; i <= slices; i++) {
    const weight = (i === 0 || i === slices ? 1 : i % 2 ? 4 : 2) / (3 * slices)
    const slice = strip.at(i / slices)
    const pressure = windPressurePa(wind, Math.min(strip.toM, Math.max(strip.fromM, slice.zM)))
    if (!pressure.ok) return pressure
    areaM2 += weight * slice.areaM2
    forceN += weight * slice.areaM2 * pressure.value
    momentNm += weight * slice.areaM2 * pressure.value * (slice.zM - sectionHeightM)
  }
  return done({ areaM2, forceN, momentNm })
}

/**
 * Wind load above a section and its moment about it: ∫ q(z) C_d b(z) (z − h) dz over crown and bare stem. An even indication of size: the
 * outline holds gaps that the wind goes through, and neither sway nor the spread of C_d is in it.
 * Codes: `out-of-range`, `wind-area-kind`, `wind-terrain-height`.
 */
export function windLoad(of: { wind: Wind; shape: WindShape; drag: DragRecord }): Outcome<WindLoad> {
  const { wind, shape } = of
  const wrong = outside({
    heightM: [shape.heightM, 0.5, 130, 'm'],
    crownBaseM: [shape.crownBaseM, 0, shape.heightM - 0.1, 'm'],
    meanCrownRadiusM: [shape.meanCrownRadiusM, 0.05, 60, 'm'],
    sectionHeightM: [shape.sectionHeightM, 0, shape.heightM - 0.1, 'm'],
    stemDiameterCm: [shape.stemDiameterCm, 0, 1500, 'cm'],
  })
  const drag = dragFor(of.drag, shape)
  if (!drag.ok) wrong.push(...drag.refusals)
  if (wrong.length > 0 || !drag.ok) return refused(...wrong)

  const crown = integrate(crownStrip(shape), wind, shape.sectionHeightM)
  const stem = integrate(stemStrip(shape), wind, shape.sectionHeightM)
  if (!crown.ok) return crown
  if (!stem.ok) return stem
  const meanPressure = crown.value.forceN / crown.value.areaM2
  const { cd, mark } = dragAt(drag.value, Math.sqrt((2 * meanPressure) / airDensityKgM3))
  const crownMomentNm = cd * crown.value.momentNm
  const stemMomentNm = stemDragCoefficient * stem.value.momentNm
  return done({
    crownAreaM2: crown.value.areaM2,
    crownForceN: cd * crown.value.forceN,
    crownMomentNm,
    stemForceN: stemDragCoefficient * stem.value.forceN,
    stemMomentNm,
    momentNm: crownMomentNm + stemMomentNm,
    dragMark: mark,
  })
}
