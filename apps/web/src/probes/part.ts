import { refusalAt } from '../look/index.ts'
import type { ReadingHandle } from './useReading.ts'
import type { Values } from './values.ts'

/** What each part of the form is given. */
export interface PartProps {
  handle: ReadingHandle
}

type OwnPart = 'core' | 'trace' | 'sounding' | 'fracture' | 'laboratory' | 'opening' | 'cut' | 'outline'

/** The values of one kind, a way to change some of them, and the refusal at a field of the record. */
export function partOf<K extends OwnPart>({ values, change, refusals }: ReadingHandle, name: K) {
  const own = values[name]
  return {
    own,
    set: (some: Partial<Values[K]>) => change({ [name]: { ...own, ...some } } as Partial<Values>),
    at: (path: string) => refusalAt(refusals, path),
  }
}

/** A list with one member changed. */
export const replaced = <T>(list: readonly T[], index: number, part: Partial<T>): T[] =>
  list.map((one, i) => (i === index ? { ...one, ...part } : one))
export const without = <T>(list: readonly T[], index: number): T[] => list.filter((_, i) => i !== index)
