import { type ZoneKind, zoneKinds } from '@underbough/model'
import type { Basis, SpotKind, SpotQuestion } from './hooks.ts'

const bases: readonly Basis[] = ['one', 'rated', 'rating']

/** What the list asks, as its address says it; what the address does not say is as at first. */
export function questionOf(words: URLSearchParams): Omit<SpotQuestion, 'within'> {
  const of: SpotKind = words.get('of') === 'cells' ? 'cells' : 'zones'
  const kind = words.get('kind') as ZoneKind | null
  return {
    of,
    basis: bases.find((basis) => basis === words.get('by')) ?? 'one',
    siteId: words.get('site'),
    kind: of === 'zones' && kind && zoneKinds.includes(kind) ? kind : null,
  }
}

/** Whether the address asks for what is expected per year. */
export const asksExpected = (words: URLSearchParams) =>
  words.get('by') === 'expected' && words.get('of') !== 'cells'

/** The address of a question. */
export function wordsOf({ of, basis, siteId, kind }: Omit<SpotQuestion, 'within'>): Record<string, string> {
  return {
    ...(of === 'zones' ? {} : { of }),
    ...(basis === 'one' ? {} : { by: basis }),
    ...(siteId ? { site: siteId } : {}),
    ...(kind && of === 'zones' ? { kind } : {}),
  }
}
