import { type Entry, latinGenera, named, nearest, speciesNames } from './catalogue.ts'
import { genusNames, groupWords, softwoodGenera, type WoodGroup } from './genera.ts'
import { joined, plain } from './spelling.ts'

/** What a written name was taken for, and how. */
export interface SpeciesMatch {
  /**
   * `exact`: a name of the table. `close`: taken for one spelled alike, or the writer was in doubt ("cf."). `genus` alone. `group`: no more than
   * hardwood or softwood ("cedar", "conifer"). `none`.
   */
  how: 'exact' | 'close' | 'genus' | 'group' | 'none'
  latin: string | null
  genus: string | null
  /** Usual English name of the species or genus. */
  english: string | null
  group: WoodGroup | null
  /** The botanical name that the written one was taken for. */
  takenFor: string | null
  /** Letters by which the written name differs from the name it was taken for: 0 unless it was misspelled. */
  lettersOff: number
}

const nothing: SpeciesMatch = {
  how: 'none',
  latin: null,
  genus: null,
  english: null,
  group: null,
  takenFor: null,
  lettersOff: 0,
}

/**
 * What a name in a tree list means: Latin or English, with cultivar, hybrid sign, "sp." or the words turned ("Maple, Norway"), and common
 * misspellings. A close match is said to be one; it stays within the genus where that is spelled rightly and keeps the first letter always.
 */
export function resolveSpecies(written: string): SpeciesMatch {
  const name = plain(written)
  const words = name.replace(/,/g, ' ').split(' ').filter(Boolean)
  if (words.length === 0) return nothing
  const doubted = /\b(cf|aff)\b/i.test(written)
  const readings = readingsOf(name, words)
  for (const reading of readings) {
    const found = named.get(joined(reading))
    if (found?.latin) return match(found, 0, doubted)
  }
  const alone = words.length === 1 ? named.get(words[0]!) : undefined
  if (alone) return match(alone, 0, doubted)

  const genus = genusOf(name, words)
  const close = readings
    .map((reading) => nearest(reading, genus?.genus ?? null))
    .filter((found) => found?.entry.latin)
    .sort((a, b) => a!.off - b!.off)[0]
  if (close) return match(close.entry, close.off, doubted)
  if (genus) return match(genus, 0, doubted)
  const group = groupWords.get(words.at(-1)!) ?? groupWords.get(words[0]!)
  if (group) return { ...nothing, how: 'group', group }
  const near = nearest(words[0]!, null)
  const fits = near && (words.length === 1 || latinGenera.has(near.entry.name))
  return fits ? match({ ...near.entry, latin: null }, near.off, doubted) : nothing
}

/** The ways to read it, likeliest first: as it stands, its first words, its last two, and with the genus' word turned to the end. */
function readingsOf(name: string, words: readonly string[]): string[] {
  const [head = '', tail = ''] = name.includes(',')
    ? name.split(',').map((part) => part.trim())
    : [words[0], words.slice(1).join(' ')]
  const rest = tail.split(' ').filter(Boolean)
  const turned = rest.map((_, i) => [...rest.slice(0, rest.length - i), head].join(' '))
  const ways = [words.join(' '), words.slice(0, 2).join(' '), words.slice(0, 3).join(' ')]
  const last = name.includes(',') ? [] : [words.slice(-2).join(' ')]
  return [...new Set([...ways, ...last, ...(latinGenera.has(head) && !name.includes(',') ? [] : turned)])]
}

/** A botanical genus in front, else an English one at the end (“purple beech”), else one in front (“Beech, purple”). */
function genusOf(name: string, words: readonly string[]): Entry | undefined {
  const first = words[0]!
  const latin = latinGenera.get(first)
  if (latin) return latin
  const last = words.at(-1) === 'tree' ? words.at(-2)! : words.at(-1)!
  if (!name.includes(',') && groupWords.has(last)) return undefined
  const english = [last, first].map((word) => {
    const entry = named.get(word)
    return entry?.latin === null && !latinGenera.has(word) ? entry : undefined
  })
  return name.includes(',') ? english[1] : (english[0] ?? english[1])
}

function match(entry: Entry, lettersOff: number, doubted: boolean): SpeciesMatch {
  const known = entry.latin ? speciesNames.find((one) => one.latin === entry.latin) : undefined
  return {
    how: entry.latin ? (lettersOff > 0 || doubted ? 'close' : 'exact') : 'genus',
    latin: entry.latin,
    genus: entry.genus,
    english: known?.english[0] ?? genusNames[entry.genus]?.[0] ?? null,
    group: softwoodGenera.has(entry.genus) ? 'softwood' : 'hardwood',
    takenFor: entry.latin ?? entry.genus,
    lettersOff,
  }
}
