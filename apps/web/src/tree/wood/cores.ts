import type { Outcome, Probe, ProbeOf } from '@underbough/model'
import {
  type Age,
  ageOf,
  type FractureResult,
  fractureOf,
  type GreenWoodOf,
  type Reach,
  reachOf,
  recentGrowth,
} from '@underbough/wood'
import { offMiddleDeg } from './facts.ts'

type Core = ProbeOf<'core'>
type Fracture = ProbeOf<'fracture-test'>

/** Age from a core's rings; null where none were counted. */
export function ageOfCore({ reading, heightM, on }: Core): Outcome<Age> | null {
  if (reading.ringsCounted === null) return null
  return ageOf({
    ringsCounted: reading.ringsCounted,
    pith: reading.pith,
    innermostRingsMm: reading.innermostRingsMm,
    innermost10mmRings: reading.innermost10mmRings,
    heightM,
    yearSampled: Number(on.slice(0, 4)),
  })
}

/** `2.4 mm a ring over the last ten, so about 4.8 mm a year on the diameter`; null where they were not measured. */
export function growthWords({ reading }: Core): string | null {
  if (reading.outerTenRingsMm === null) return null
  const growth = recentGrowth(reading.outerTenRingsMm)
  if (!growth.ok) return null
  const { ringMmPerYear, diameterMmPerYear } = growth.value
  return `${ringMmPerYear.toFixed(1)} mm a ring over the last ten, so about ${diameterMmPerYear.toFixed(1)} mm a year on the diameter`
}

/** How much of the way to the middle the borer read; null where the radius is not known. */
export function reachOfCore(core: Core, outerRadiusCm: number | null): Outcome<Reach> | null {
  if (outerRadiusCm === null) return null
  const { reading } = core
  return reachOf({
    radiusCm: outerRadiusCm,
    barkCm: reading.barkCm,
    borerLengthCm: reading.borerLengthCm,
    reachedCm: reading.reachedCm,
    offRadiusDeg: Math.max(-89, Math.min(89, offMiddleDeg(core))),
  })
}

/** `40 of 62 cm to the middle; the rest is unread`. */
export function reachWords({ reading }: Core, toMiddleCm: number | null): string {
  const reached = Number(reading.reachedCm.toFixed(1))
  if (toMiddleCm === null) return `${reached} cm; how far the middle is was not measured`
  const middle = Number(toMiddleCm.toFixed(1))
  return reading.reachedCm >= toMiddleCm - 0.5
    ? `${reached} cm, and so the middle at about ${middle} cm`
    : `${reached} of ${middle} cm to the middle; the rest is unread`
}

/** Fracture tests made on a core. */
export const testsOf = (core: Core, probes: readonly Probe[]): Fracture[] =>
  probes.filter(
    (probe): probe is Fracture => probe.kind === 'fracture-test' && probe.reading.ofProbeId === core.id,
  )

/** A fracture test worked out beside the green wood of the species, whose figures run along the grain. */
export const fractureOfTest = ({ reading }: Fracture, wood: GreenWoodOf): Outcome<FractureResult> =>
  fractureOf({
    ...reading,
    green: {
      grain: 'along',
      bendingStrengthMPa: wood.bendingStrengthMPa.value,
      stiffnessGPa: wood.stiffnessGPa.value,
    },
  })

/** The pieces that did not break as firm wood does, in one sentence; null where nothing stands out or there is nothing to set them beside. */
export function fractureHint({ breaks, beside }: FractureResult): string | null {
  if (!beside) return 'Too few breaks to set beside one another.'
  const odd = breaks.filter((one) => one.manner && one.manner !== 'firm')
  if (odd.length === 0) return `Every piece broke much as the others did. A hint, not a diagnosis.`
  const at = odd.map((one) => `${one.manner} at ${Number(one.atCm.toFixed(1))} cm`).join(', ')
  return `Beside ${beside}: ${at}. A hint, not a diagnosis.`
}
