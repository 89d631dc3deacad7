import type { Tree } from '@underbough/model'
import {
  type GreenWoodOf,
  greenWoodOf,
  resolveSpecies,
  type SpeciesMatch,
  type WoodCell,
} from '@underbough/wood'

export interface KnownWood {
  match: SpeciesMatch
  wood: GreenWoodOf
}

/** What a written name means, and the wood that goes with it. The common name is asked where the first one says less. */
export function woodOf(written: string, commonName: string | null = null): KnownWood {
  const first = resolveSpecies(written)
  const second =
    commonName && (first.how === 'none' || first.how === 'group') ? resolveSpecies(commonName) : first
  const match = second.how === 'none' ? first : second
  return { match, wood: greenWoodOf(match.latin, match.genus, match.group) }
}
export const woodOfTree = ({ species, commonName }: Pick<Tree, 'species' | 'commonName'>) =>
  woodOf(species, commonName)

/** `Taken for Norway maple, Acer platanoides (close match).` */
export function takenFor({ how, latin, genus, english, group }: SpeciesMatch): string {
  const capital = (word: string) => word.charAt(0).toUpperCase() + word.slice(1)
  if (how === 'exact') return `Taken for ${english ? `${english}, ` : ''}${latin}.`
  if (how === 'close') return `Taken for ${english ? `${english}, ` : ''}${latin} (close match).`
  if (how === 'genus')
    return `Taken for ${genus}${english ? `, ${english}` : ''}: the genus alone, so figures span it.`
  if (how === 'group')
    return `${capital(group ?? 'wood')}: no more can be told from the name, so figures span the group.`
  return 'This name is not known here, so figures span every species of the table.'
}

/** One figure of green wood as it is shown. */
export interface WoodLine {
  name: string
  figure: string
  source: string
}
const cells = [
  ['densityKgM3', 'Green density', 'kg/m³', 0],
  ['crushingStrengthMPa', 'Crushing strength, green', 'MPa', 1],
  ['bendingStrengthMPa', 'Bending strength, green', 'MPa', 1],
  ['stiffnessGPa', 'Stiffness, green', 'GPa', 1],
] as const

/** Density and strength of green wood with their spans, whose they are, and where they come from. */
export function woodLines(wood: GreenWoodOf): WoodLine[] {
  return cells.map(([key, name, unit, places]) => {
    const cell = wood[key]
    const [least, value, most] = [cell.least, cell.value, cell.most].map((x) => x.toFixed(places))
    return {
      name,
      figure: `${value} ${unit}${least === most ? '' : `, ${least} to ${most}`}`,
      source: cellSource(cell),
    }
  })
}

/** Source of one cell, with whose figure it is and the mark of what is from memory. */
export function cellSource(cell: WoodCell): string {
  const whose = cell.from === 'species' ? '' : `Stands in from ${cell.of}; `
  return `${whose}${cell.source}${cell.basis === 'memory' && !/memory/.test(cell.source) ? ', from memory' : ''}`
}
