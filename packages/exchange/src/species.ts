import type { TreeMapping } from '@underbough/model'
import { tidy } from './cells.ts'

/** Words that say “several trees” in a species cell, in the languages read here. */
const GROUP =
  /^(baum-?gruppe|gruppe|baumbestand|bestand|group|tree group|stand of|clump|groupe|bosquet|massif|grupo|rodal|bosquete|boomgroep|bosplantsoen)\b/i
const GENUS = '(?:[x×] ?)?[A-Z][a-zë]+(?:-[a-zë]+)?'
const RANK = String.raw`(?:[x×]|cf\.|aff\.|spp?\.?|spec\.|species|subsp\.|ssp\.|var\.|f\.|Aggregat|agg\.|Hybride[n]?)`
const EPITHET = '×?[a-zë][a-zë-]{2,}'
const CULTIVAR = String.raw`['‘’"“].+|\(.+`
/** A name under the codes of botanical nomenclature, loosely: genus, epithets and ranks, perhaps a cultivar. */
const BOTANICAL = new RegExp(`^${GENUS}(?: (?:${RANK}|${EPITHET}))*(?: (?:${CULTIVAR}))?$`)
/** English names of two words have the shape of a botanical one. */
const EVERYDAY =
  /^\w+ (tree|oak|maple|ash|lime|pine|elm|beech|birch|cherry|apple|willow|cedar|spruce|fir|plane)$/i

/** True for a cell that names several trees in place of a species. */
export const isGroupWord = (cell: string): boolean => GROUP.test(cell.trim())

/** A genus, perhaps with epithets, a hybrid sign, `spec.` or a cultivar. `strict` asks for more than one word. */
export function looksBotanical(name: string, strict = false): boolean {
  const text = tidy(name)
  return BOTANICAL.test(text) && !EVERYDAY.test(text) && (!strict || text.includes(' '))
}

/** Splits a cell that holds two names, by the mapping; without the separator the whole is the species. */
export function splitSpecies(
  cell: string,
  { speciesOrder, speciesSeparator }: Pick<TreeMapping, 'speciesOrder' | 'speciesSeparator'>,
): { species: string; commonName: string | null } {
  const at = speciesOrder === 'botanical' || !speciesSeparator ? -1 : cell.indexOf(speciesSeparator)
  if (at < 0) return { species: tidy(cell), commonName: null }
  const parts = [tidy(cell.slice(0, at)), tidy(cell.slice(at + speciesSeparator.length))]
  if (speciesOrder === 'common-then-botanical') parts.reverse()
  const [species, commonName] = parts as [string, string]
  return { species: species || commonName, commonName: species ? commonName || null : null }
}
