/** Lower case without accents, hybrid sign, cultivar, brackets, rank marks and words of doubt; single spaces, hyphens as spaces. Commas stay. */
export function plain(name: string): string {
  return name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/['‘’`"“”][^'‘’`"“”]*['‘’`"“”]/g, ' ')
    .replace(/\(.*?\)/g, ' ')
    .replace(/×|(^|\s)x(?=\s)/g, ' ')
    .replace(
      /\b(cv|var|subsp|ssp|spp|sp|spec|f|cf|aff|aggr|aggregat|species|cultivars?|hybrid|unknown)\b\.?/g,
      ' ',
    )
    .replace(/[^a-z\s,]/g, ' ')
    .replace(/\s+/g, ' ')
    .replace(/ ,/g, ',')
    .trim()
}

/** “Honey locust”, “honey-locust” and “honeylocust” are one name. */
export const joined = (name: string): string => name.replace(/[\s,-]/g, '')

/**
 * Letters by which a written name differs from a name of the table, or null where it is too far: word by word at most one letter in five, or one
 * in a short word, and the first letter stays; one more in a long first word where all others are right. So one species is not taken for another
 * whose name merely resembles it.
 */
export function lettersBetween(written: string, name: string): number | null {
  if (written[0] !== name[0]) return null
  const [a, b] = [written.split(' '), name.split(' ')]
  if (a.length !== b.length) return null
  const restIsRight = b.length > 1 && b.slice(1).every((word, i) => word === a[i + 1])
  let sum = 0
  for (const [i, word] of b.entries()) {
    const off = differing(a[i]!, word)
    const share = i === 0 && restIsRight ? 4 : 5
    if (off > Math.max(word.length < 4 ? 0 : 1, Math.floor(word.length / share))) return null
    sum += off
  }
  return sum
}

/** Letters to change, add or leave out to turn one word into the other, two swapped neighbours counting once. */
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
