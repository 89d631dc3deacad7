import {
  CM_PER_INCH,
  combinedDiameterCm,
  done,
  M_PER_FOOT,
  type Outcome,
  type Refusal,
  refusal,
  refused,
} from '@underbough/model'
import { outside } from '../limits.ts'
import { combinedForBs5837Cm } from './combine.ts'

export interface RootZoneInput {
  /** One or more stems, measured at the height the rule at hand asks for. */
  stemsCm: readonly number[]
  /** Just above the root buttress; the stem's own diameter stands in and is said to. */
  buttressDiameterCm?: number | null
}

/** One published radius around the middle of the stem. */
export interface RootZone {
  id: RootZoneId
  name: string
  radiusM: number
  areaM2: number
  /** What it was worked out from. */
  diameterCm: number
  rule: string
  /** A floor or ceiling of the rule that took effect. */
  bound: string | null
  domain: string
  source: string
  /** `memory`: part of the rule is from memory, see `domain`. */
  basis: 'seen' | 'memory'
}
export type RootZoneId =
  | 'bs-5837'
  | 'as-4970-protection'
  | 'as-4970-structural'
  | 'foot-per-inch'
  | 'five-quarter-feet-per-inch'
  | 'foot-and-a-half-per-inch'
  | 'trench-three-diameters'

export interface RootZones {
  zones: RootZone[]
  sentence: string
}

const circle = (radiusM: number) => ({ radiusM, areaM2: Math.PI * radiusM ** 2 })

function bs5837(stemsCm: readonly number[]): RootZone {
  const diameterCm = combinedForBs5837Cm(stemsCm)
  const radiusM = (12 * diameterCm) / 100
  const capped = radiusM > 15
  return {
    id: 'bs-5837',
    name: 'Root protection area, BS 5837',
    ...(capped ? { radiusM: 15, areaM2: 707 } : circle(radiusM)),
    diameterCm,
    rule: '12 × stem diameter at 1.5 m',
    bound: capped ? 'area held at 707 m², radius 15 m' : null,
    domain:
      'Building sites in Britain; a starting figure, to be shaped by what roots can do there. Two to five stems √Σd²; more than five √(mean² × n), from memory.',
    source: 'BS 5837:2012, 4.6',
    basis: stemsCm.length > 5 ? 'memory' : 'seen',
  }
}

function asProtection(diameterCm: number, several: boolean): RootZone {
  const radiusM = (12 * diameterCm) / 100
  return {
    id: 'as-4970-protection',
    name: 'Tree protection zone, AS 4970',
    ...circle(Math.min(15, Math.max(2, radiusM))),
    diameterCm,
    rule: '12 × stem diameter at 1.4 m, from 2 to 15 m',
    bound: radiusM < 2 ? 'not under 2 m' : radiusM > 15 ? 'not over 15 m' : null,
    domain:
      'Building sites in Australia. Several stems √Σd², from memory. Palms and their like go otherwise.',
    source: 'AS 4970-2009',
    basis: several ? 'memory' : 'seen',
  }
}

function asStructural(diameterCm: number, atButtress: boolean): RootZone {
  const small = diameterCm < 15
  const standIn = 'The stem’s diameter stands in for the one above the buttress, so this comes out small. '
  return {
    id: 'as-4970-structural',
    name: 'Structural root zone, AS 4970',
    ...circle(small ? 1.5 : ((diameterCm / 100) * 50) ** 0.42 * 0.64),
    diameterCm,
    rule: '(D × 50)^0.42 × 0.64 m, D in m above the root buttress',
    bound: small ? '1.5 m where the diameter is under 0.15 m' : null,
    domain: `${atButtress ? '' : standIn}What holds the tree up, not what feeds it; only for digging within the protection zone.`,
    source: 'AS 4970-2009',
    basis: 'seen',
  }
}

function perInch(id: RootZoneId, feet: number, name: string, source: string, diameterCm: number): RootZone {
  return {
    id,
    name,
    ...circle((diameterCm / CM_PER_INCH) * feet * M_PER_FOOT),
    diameterCm,
    rule: `${feet} ft for each inch of stem diameter at 4.5 ft`,
    bound: null,
    domain: 'A local rule; several stems √Σd² here, which the rule does not say.',
    source,
    basis: 'seen',
  }
}

function trench(diameterCm: number): RootZone {
  return {
    id: 'trench-three-diameters',
    name: 'Least distance of a trench',
    ...circle((3 * diameterCm) / 100),
    diameterCm,
    rule: '3 × stem diameter',
    bound: null,
    domain:
      'A trench on one side; willow oaks pulled to one degree of lean. A least distance for standing, not for the tree’s health.',
    source: 'Smiley 2008, Arboriculture & Urban Forestry, doi 10.48044/jauf.2008.016',
    basis: 'seen',
  }
}

/**
 * Root-zone radii by every rule known here, side by side: none is preferred and none averaged. Radii are from the middle of the stem.
 * Codes: `required` without a stem, `out-of-range`.
 */
export function rootZones({ stemsCm, buttressDiameterCm }: RootZoneInput): Outcome<RootZones> {
  const wrong: Refusal[] = stemsCm.length === 0 ? [refusal('required', 'stemsCm')] : []
  wrong.push(
    ...outside(Object.fromEntries(stemsCm.map((d, i) => [`stemsCm.${i}`, [d, 0.1, 1500, 'cm'] as const]))),
  )
  if (buttressDiameterCm != null)
    wrong.push(...outside({ buttressDiameterCm: [buttressDiameterCm, 0.1, 2000, 'cm'] }))
  if (wrong.length > 0) return refused(...wrong)

  const diameterCm = combinedDiameterCm(stemsCm)
  return done({
    zones: [
      bs5837(stemsCm),
      asProtection(diameterCm, stemsCm.length > 1),
      asStructural(buttressDiameterCm ?? diameterCm, buttressDiameterCm != null),
      perInch(
        'foot-per-inch',
        1,
        'Critical root radius, one foot an inch',
        'City of Vancouver, Washington, code 20.170.100',
        diameterCm,
      ),
      perInch(
        'five-quarter-feet-per-inch',
        1.25,
        'Critical root radius, a foot and a quarter an inch',
        'North Carolina State University extension',
        diameterCm,
      ),
      perInch(
        'foot-and-a-half-per-inch',
        1.5,
        'Critical root radius, a foot and a half an inch',
        'City of Edina, Minnesota',
        diameterCm,
      ),
      trench(diameterCm),
    ],
    sentence:
      'Your local rule governs. Roots do not keep to circles: walls, roads, water and soil send them elsewhere.',
  })
}
