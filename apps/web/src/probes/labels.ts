import { sameHeightM } from '@underbough/wood'
import { kindLetters, type ProbeKind, wounds } from './words.ts'

/** The next free short name of a kind: C1, C2. Numbers once given are not given again, though a lower one has become free. */
export function nextLabel(kind: ProbeKind, labels: readonly string[]): string {
  const letter = kindLetters[kind]
  const taken = labels.map((label) => {
    const text = label.trim().toUpperCase()
    const number = text.slice(letter.length)
    return text.startsWith(letter) && /^\d{1,6}$/.test(number) ? Number(number) : 0
  })
  return `${letter}${Math.max(0, ...taken) + 1}`
}

interface Hole {
  id: string
  kind: ProbeKind
  visitId: string | null
  heightM: number | null
}
/** Holes that a visit has made at a height already, this one left out. Each counts once, whether it is here or in the office. */
export function holesAt(
  holes: readonly Hole[],
  { id, visitId, heightM }: Pick<Hole, 'id' | 'visitId' | 'heightM'>,
): number {
  if (visitId === null || heightM === null) return 0
  const here = holes.filter(
    (hole) =>
      hole.id !== id &&
      hole.visitId === visitId &&
      wounds(hole.kind) &&
      hole.heightM !== null &&
      Math.abs(hole.heightM - heightM) <= sameHeightM + 1e-9,
  )
  return new Set(here.map((hole) => hole.id)).size
}
