import type { TreeMapping } from '@underbough/model'
import { tidy } from './cells.ts'

/** Words that say “several trees” in a species cell, in the languages read here. */
const GROUP =
  /^(baum-?gruppe|gruppe|baumbestand|bestand|gehölz|group|tree group|stand of|clump|groupe|bosquet|massif|grupo|rodal|bosquete|boomgroep|bosplantsoen)\b/i
const BOTANICAL = /^[A-Z][a-zë]+-?[a-zë]*( ?[x×]( |$))?( (cf\.|aff\.|[a-zë'’.-]{2,}))*( ['‘"“].+)?/
const NOT_EPITHETS = /^[A-Z]\w+ (tree|species|oak|maple|ash|lime|pine)$/i

/** True for a cell that names several trees in place of a species. */
export const isGroupWord = (cell: string): boolean => GROUP.test(cell.trim())

/** A genus with an epithet, a hybrid sign, `spec.` or a cultivar. `strict` asks for more than one word. */
export function looksBotanical(name: string, strict = false): boolean {
  const text = tidy(name)
  const match = BOTANICAL.exec(text)
  if (match?.[0] !== text || NOT_EPITHETS.test(text)) return false
  return !strict || / /.test(text)
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
