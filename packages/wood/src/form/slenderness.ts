import { done, type Outcome, refused } from '@underbough/model'
import { outside } from '../limits.ts'

/** Height over stem diameter, and the published lines with what is said against them. */
export interface Slenderness {
  ratio: number
  lines: { at: number; says: string; source: string }[]
}

/** H/D of a tree, both in the same unit. Codes: `out-of-range`. */
export function slendernessOf(of: { heightM: number; stemDiameterCm: number }): Outcome<Slenderness> {
  const wrong = outside({
    heightM: [of.heightM, 0.1, 130, 'm'],
    stemDiameterCm: [of.stemDiameterCm, 0.1, 1500, 'cm'],
  })
  if (wrong.length > 0) return refused(...wrong)
  return done({
    ratio: of.heightM / (of.stemDiameterCm / 100),
    lines: [
      {
        at: 50,
        says: 'for trees that stand alone; disputed',
        source: 'Mattheck, disputed by Jillich et al. 2013',
      },
      {
        at: 80,
        says: 'for four conifers in stands, against snow and wind',
        source: 'Wonn and O’Hara 2001, Western Journal of Applied Forestry 16(2)',
      },
    ],
  })
}
