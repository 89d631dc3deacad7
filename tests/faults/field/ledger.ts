import type { Account } from '../ground.ts'
import type { Books } from './office.ts'

/** What people entered and were shown as kept: the measure for what must be at the office in the end. */
export interface Ledger {
  /** Who works on the phone now. */
  person: Account
  /** Closed visits: the tree’s tag, and whose it is. */
  visits: { tag: string; person: Account }[]
  /** Digests of the files that were taken as photos. */
  photos: string[]
  skipped: string[]
  urgent: string[]
  /** Tags of trees put on record under the trees. */
  found: string[]
}
export const emptyLedger = (): Ledger => ({
  person: 'inspector',
  visits: [],
  photos: [],
  skipped: [],
  urgent: [],
  found: [],
})

/** One round of a fault in figures, and every difference in words. */
export interface Reckoning {
  entered: number
  atTheOffice: number
  /** Photos whose bytes at the office have the digest they had on the phone. */
  digests: { entered: number; equal: number }
  doubles: number
  lost: string[]
}

/** Holds what was entered to what is on record. Every tree is visited at most once in a round. */
export function reckon(ledger: Ledger, books: Books): Reckoning {
  const lost: string[] = []
  let atTheOffice = 0
  let doubles = 0
  const hold = (what: string, entered: readonly string[], stored: readonly string[]) => {
    const there = new Map<string, number>()
    for (const one of stored) there.set(one, (there.get(one) ?? 0) + 1)
    for (const one of entered) {
      if (there.has(one)) atTheOffice++
      else lost.push(`${what} ${one} is not at the office`)
    }
    for (const [one, times] of there) {
      if (!entered.includes(one)) lost.push(`${what} ${one} was never shown as kept, and is at the office`)
      if (times > 1) {
        doubles += times - 1
        lost.push(`${what} ${one} is there ${times} times`)
      }
    }
  }
  hold(
    'the visit to',
    ledger.visits.map(({ tag, person }) => `${tag} by the ${person}`),
    books.visits.map(({ treeTag, personId }) => `${treeTag} by the ${personId}`),
  )
  hold('the photo', ledger.photos, books.photos)
  hold(
    'the skipped stop at',
    ledger.skipped,
    books.ended.flatMap(({ tag, how }) => (how === 'skipped' ? tag : [])),
  )
  hold('the urgent note about', ledger.urgent, books.urgent)
  for (const tag of ledger.found) {
    const times = books.trees.filter((one) => one === tag).length
    if (times === 1) atTheOffice++
    else lost.push(`the tree ${tag} is there ${times} times`)
  }
  for (const { treeTag, steps } of books.visits)
    if (steps !== 7) lost.push(`the visit to ${treeTag} has ${steps} of seven answers`)
  for (const digest of books.copies)
    if (!books.bytes.has(digest)) lost.push(`the copy ${digest} has no bytes`)
  const equal = ledger.photos.filter((digest) => books.bytes.has(digest)).length
  for (const digest of ledger.photos)
    if (!books.bytes.has(digest)) lost.push(`the bytes of ${digest} are not at the office`)
  return {
    entered: [ledger.visits, ledger.photos, ledger.skipped, ledger.urgent, ledger.found].flat().length,
    atTheOffice,
    digests: { entered: ledger.photos.length, equal },
    doubles,
    lost,
  }
}
