import { densityRows } from './density.ts'
import { genusNames, softwoodGenera } from './genera.ts'
import { moreNames, otherNames, synonyms } from './names.ts'
import { rarerNames } from './rarer.ts'
import { joined, lettersBetween, plain } from './spelling.ts'
import { strengthRows } from './strength.ts'

/** A species of the table under its names. */
export interface SpeciesName {
  latin: string
  english: readonly string[]
}

/** Every species of the table, by Latin name. */
export const speciesNames: readonly SpeciesName[] = (() => {
  const byLatin = new Map<string, Set<string>>()
  const add = (latin: string, english: readonly string[]) => {
    const names = byLatin.get(latin) ?? new Set<string>()
    for (const name of english) names.add(name.replace(/\s*\(.*\)/, '').toLowerCase())
    byLatin.set(latin, names)
  }
  for (const [latin, names] of Object.entries(otherNames)) add(latin, names)
  for (const [latin, english] of densityRows) add(latin, english.split(', '))
  for (const [latin, english] of strengthRows) add(latin, [english])
  for (const [latin, ...english] of [...moreNames, ...rarerNames]) add(latin, english)
  return [...byLatin]
    .map(([latin, english]) => ({ latin, english: [...english] }))
    .sort((a, b) => a.latin.localeCompare(b.latin))
})()

/** One name of a species, or of a genus (`latin` null). */
export interface Entry {
  name: string
  latin: string | null
  genus: string
}

const species = (name: string, latin: string): Entry => ({
  name: plain(name),
  latin,
  genus: latin.split(' ')[0]!,
})
const genusEntries = [
  ...new Set([...speciesNames.map(({ latin }) => latin.split(' ')[0]!), ...softwoodGenera]),
].map((genus): Entry => ({ name: genus.toLowerCase(), latin: null, genus }))
const entries: readonly Entry[] = [
  ...speciesNames.flatMap(({ latin, english }) => [latin, ...english].map((name) => species(name, latin))),
  ...Object.entries(synonyms).map(([name, latin]) => species(name, latin)),
  ...genusEntries,
  ...Object.entries(genusNames).flatMap(([genus, names]) =>
    names.map((name): Entry => ({ name: plain(name), latin: null, genus })),
  ),
]

const mapOf = (from: readonly Entry[]): ReadonlyMap<string, Entry> =>
  new Map(from.map((entry) => [joined(entry.name), entry]))
/** By joined name. A name that a genus bears is the genus': “ash” alone names no species. */
export const named = mapOf(entries)
/** Botanical genera alone. */
export const latinGenera = mapOf(genusEntries)

/** The entry nearest in spelling, within the genus where one is given; null where none is near enough. */
export function nearest(name: string, genus: string | null): { entry: Entry; off: number } | null {
  let best: { entry: Entry; off: number } | null = null
  if (name.length < 5) return null
  for (const entry of entries) {
    if (genus && entry.genus !== genus) continue
    const off = lettersBetween(name, entry.name)
    if (off !== null && (best === null || off < best.off)) best = { entry, off }
  }
  return best
}
