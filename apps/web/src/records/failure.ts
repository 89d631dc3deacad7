import {
  type CivilDate,
  type FailureInput,
  type Position,
  position,
  type Refusal,
  refusal,
  type ScenarioPart,
} from '@underbough/model'

export const partWords: Readonly<Record<ScenarioPart, string>> = {
  'whole-tree': 'The whole tree',
  stem: 'The stem',
  limb: 'A limb',
}

/** A failure while it is written down: nothing is filled in for the person. */
export interface FailureDraft {
  id: string
  treeId: string | null
  place: { lon: number | null; lat: number | null }
  where: 'tree' | 'place'
  on: CivilDate
  part: ScenarioPart | null
  gustMps: number | null
  hit: string
  nearMiss: boolean
  note: string
}

/** The record to keep, or what is still missing of it, field by field. */
export function failureOf(
  draft: FailureDraft,
  today: CivilDate,
): { input: FailureInput } | { refusals: Refusal[] } {
  const { place, where, part, treeId, ...rest } = draft
  const refusals: Refusal[] = []
  const say = (path: string, message: string) => refusals.push(refusal('required', path, { message }))
  const spot = position.safeParse([place.lon, place.lat])
  if (where === 'tree' && !treeId) say('treeId', 'Name the tree.')
  if (where === 'place' && !spot.success)
    say('place', 'Give the longitude and the latitude of the place, in degrees.')
  if (!part) say('part', 'Say which part broke.')
  if (!draft.on) say('on', 'Say on which day.')
  else if (draft.on > today) say('on', 'That day has not come yet.')
  if (refusals.length > 0 || !part) return { refusals }
  const at = where === 'place' ? (spot.data as Position) : null
  return { input: { ...rest, part, treeId: where === 'tree' ? treeId : null, place: at } }
}

/** `3 near misses and 5 failures`, in the order in which they weigh. */
export function saySum(failures: readonly Pick<FailureInput, 'nearMiss' | 'hit'>[]): string {
  const near = failures.filter((f) => f.nearMiss).length
  const broke = failures.length - near
  const hit = failures.filter((f) => !f.nearMiss && f.hit.trim()).length
  const plural = (n: number, one: string, many = `${one}s`) => `${n} ${n === 1 ? one : many}`
  const hits = broke === 0 ? '' : `, ${hit === 0 ? 'none' : hit} of which hit something`
  return `${plural(broke, 'failure')}${hits}; ${plural(near, 'near miss', 'near misses')}.`
}
