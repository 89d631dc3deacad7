import type { Outcome } from '@underbough/model'
import { everydayComparison, foliageShares, type PartWeight, type Spanned, weighPart } from '@underbough/wood'
import type { KnownWood } from './species.ts'

/** What a person says of a part; null while it is not said. */
export interface PartSaid {
  lengthM: number | null
  buttDiameterCm: number | null
  tipDiameterCm: number | null
  middleDiameterCm: number | null
  heightM: number | null
  leaf: keyof typeof foliageShares
}

/** The weight; null until length and both ends are said. */
export function weightOf(said: PartSaid, { wood }: KnownWood): Outcome<PartWeight> | null {
  const { lengthM, buttDiameterCm, tipDiameterCm } = said
  if (lengthM === null || buttDiameterCm === null || tipDiameterCm === null) return null
  const { value, least, most } = wood.densityKgM3
  return weighPart({
    lengthM,
    buttDiameterCm,
    tipDiameterCm,
    middleDiameterCm: said.middleDiameterCm,
    heightM: said.heightM,
    foliageShare: foliageShares[said.leaf],
    densityKgM3: { value, least, most },
  })
}

/** Two figures are as many as a limb's weight bears. */
const two = (value: number) => Number(value.toPrecision(2)).toLocaleString('en-GB')
const spanned = ({ value, least, most }: Spanned, unit: string, of = 1) => {
  const [a, b, c] = [least / of, value / of, most / of].map(two)
  return `${b} ${unit}${a === c ? '' : ` (${a} to ${c})`}`
}

/** `About 340 kg (290 to 410), 750 lb (640 to 900).` */
export const weightWords = (part: PartWeight): string =>
  `About ${spanned(part.massKg, 'kg')}, ${spanned(part.massLb, 'lb')}, with twigs and leaves.`

/** How it lands, in one sentence; null where no height was said. */
export function landingWords({ landing }: PartWeight): string | null {
  if (!landing) return null
  const { speedMps, energyJ } = landing
  return `Falling freely it lands at about ${two(speedMps)} m/s with about ${spanned(energyJ, 'kJ', 1000)}: an upper figure, the air is left out.`
}

export const comparisonWords = (part: PartWeight): string => everydayComparison(part.massKg.value).sentence
