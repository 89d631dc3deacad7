import Fuse from 'fuse.js'
import { densityRows } from './density.ts'
import { genusNames, moreNames, otherNames, softwoodGenera, synonyms, type WoodGroup } from './names.ts'
import { strengthRows } from './strength.ts'

/** What a written name was taken for, and how. */
export interface SpeciesMatch {
  /** `exact` name; `close`: taken for a similar one; `genus` alone; `none`. */
  how: 'exact' | 'close' | 'genus' | 'none'
  latin: string | null
  genus: string | null
  /** Usual English name of the species or genus. */
  english: string | null
  group: WoodGroup | null
  /** The name in the table that the written one was taken for. */
  takenFor: string | null
}

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
    for (const name of english) names.add(plain(name.replace(/\s*\(.*\)/, '')))
    byLatin.set(latin, names)
  }
  for (const [latin, names] of Object.entries(otherNames)) add(latin, names)
  for (const [latin, english] of densityRows) add(latin, english.split(', '))
  for (const [latin, english] of strengthRows) add(latin, [english])
  for (const [latin, ...english] of moreNames) add(latin, english)
  return [...byLatin]
    .map(([latin, english]) => ({ latin, english: [...english] }))
    .sort((a, b) => a.latin.localeCompare(b.latin))
})()

/** Lower case, no accents, hybrid sign, cultivar, authors in brackets or rank marks; single spaces. */
function plain(name: string): string {
  return name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/['‘’`"“”][^'‘’`"“”]*['‘’`"“”]/g, ' ')
    .replace(/\(.*?\)/g, ' ')
    .replace(/[×]|(^|\s)x(?=\s)/g, ' ')
    .replace(/\b(cv|var|subsp|ssp|spp|sp|f|species|cultivars?|hybrid|unknown)\b\.?/g, ' ')
    .replace(/[^a-z\s,-]/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()
}

interface Entry {
  name: string
  latin: string | null
  genus: string
}
const entries: Entry[] = [
  ...speciesNames.flatMap(({ latin, english }) =>
    [latin.toLowerCase(), ...english].map((name) => ({ name, latin, genus: latin.split(' ')[0]! })),
  ),
  ...Object.entries(synonyms).map(([name, latin]) => ({
    name: name.toLowerCase(),
    latin,
    genus: latin.split(' ')[0]!,
  })),
  ...[...new Set(speciesNames.map(({ latin }) => latin.split(' ')[0]!)), ...softwoodGenera].flatMap((genus) =>
    [genus.toLowerCase(), ...(genusNames[genus] ?? [])].map((name) => ({ name, latin: null, genus })),
  ),
]
/** Names of one species come before the same name of a genus: “ash” alone is the genus wherever several species bear it. */
const exact = new Map<string, Entry>()
for (const entry of [...entries].reverse()) exact.set(entry.name, entry)
for (const [genus, names] of Object.entries(genusNames))
  for (const name of names) exact.set(name, { name, latin: null, genus })

const fuse = new Fuse(
  entries.filter((entry) => entry.name.length >= 5),
  {
    keys: ['name'],
    includeScore: true,
    threshold: 0.25,
    ignoreLocation: false,
    distance: 20,
    minMatchCharLength: 3,
  },
)
/** The last word of an English name may be its genus (“purple beech”); a botanical one never is. */
const englishGenus = new Map<string, Entry>(
  Object.entries(genusNames).flatMap(([genus, names]) =>
    names.map((name): [string, Entry] => [name, { name, latin: null, genus }]),
  ),
)
/** Letters that may differ for a name to be taken for another: one in five, and never the genus' first letter. */
const SHARE = 0.2

/**
 * What a name in a tree list means: Latin or English, with cultivar, hybrid sign, "sp." or the words turned ("Maple, Norway"), and common
 * misspellings. A close match is said to be one, and never crosses to a name that begins with another letter.
 */
export function resolveSpecies(written: string): SpeciesMatch {
  const name = plain(written)
  const turned = name.includes(',')
    ? [
        name
          .split(',')
          .map((part) => part.trim())
          .reverse()
          .filter(Boolean)
          .join(' '),
        name.replace(/,.*/, '').trim(),
      ]
    : []
  const words = name.replace(/,/g, '').split(' ').filter(Boolean)
  if (words.length === 0) return nothing
  const two = words.slice(0, 2).join(' ')
  const whole = words.join(' ')
  for (const candidate of [whole, turned[0], two, words.slice(0, 3).join(' '), words.slice(-2).join(' ')]) {
    const found = candidate ? exact.get(candidate) : undefined
    if (found?.latin) return match('exact', found)
  }
  if (words.length === 1 && exact.has(words[0]!)) return match('genus', exact.get(words[0]!)!)
  // A close name of a species before the bare genus, within the genus where the first word names one.
  const genus =
    exact.get(words[0]!) ?? englishGenus.get(words.at(-1)!) ?? (turned[1] ? exact.get(turned[1]) : undefined)
  const close = [two, whole, turned[0]]
    .filter((candidate): candidate is string => !!candidate && candidate.length >= 5)
    .map((candidate) => closest(candidate, genus?.genus ?? null))
    .find((found) => found !== null)
  if (close?.latin) return match('close', close)
  if (genus) return match('genus', genus)
  const near = closest(words[0]!, null)
  return near && words[0]!.length >= 5 ? { ...match('genus', near), latin: null } : nothing
}

const nothing: SpeciesMatch = {
  how: 'none',
  latin: null,
  genus: null,
  english: null,
  group: null,
  takenFor: null,
}

function closest(name: string, genus: string | null): Entry | null {
  for (const { item } of fuse.search(name, { limit: 8 })) {
    if (genus && item.genus !== genus) continue
    if (item.name[0] !== name[0]) continue
    if (differing(name, item.name) <= Math.max(1, Math.floor(SHARE * item.name.length))) return item
  }
  return null
}

/** Letters to change, add or leave out to turn one name into the other, two swapped neighbours counting once. */
function differing(a: string, b: string): number {
  let before: number[] = []
  let row = Array.from({ length: b.length + 1 }, (_, i) => i)
  for (let i = 1; i <= a.length; i++) {
    const next = [i]
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1]
      next[j] = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (same ? 0 : 1))
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        next[j] = Math.min(next[j]!, before[j - 2]! + 1)
    }
    before = row
    row = next
  }
  return row[b.length]!
}

function match(how: SpeciesMatch['how'], entry: Entry): SpeciesMatch {
  const known = entry.latin ? speciesNames.find((one) => one.latin === entry.latin) : undefined
  return {
    how: entry.latin ? how : 'genus',
    latin: entry.latin,
    genus: entry.genus,
    english: known?.english[0] ?? genusNames[entry.genus]?.[0] ?? null,
    group: softwoodGenera.has(entry.genus) ? 'softwood' : 'hardwood',
    takenFor: entry.latin ?? entry.genus,
  }
}
