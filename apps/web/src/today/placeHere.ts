import type { Position } from '@underbough/model'
import type { Filled } from './dayHere.ts'
import { hasEndedStop } from './facts.ts'
import type { Whereabouts } from './useFix.ts'

/** Where the crew is, as far as is known: by the phone, else at the first open stop, else where the day begins. */
export function placeHere({ daySheet, crew }: Filled, whereabouts: Whereabouts): Position {
  if (whereabouts.state === 'here') return whereabouts.fix.position
  return daySheet.stops.find((stop) => !hasEndedStop(stop))?.tree.position ?? crew.start
}
