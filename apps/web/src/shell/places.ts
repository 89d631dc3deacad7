import type { Role } from '@underbough/model'

/** Where a person can stand in the program. */
export interface Place {
  path: string
  name: string
  roles: readonly Role[]
}
const office: readonly Role[] = ['officer', 'manager']
const everyone: readonly Role[] = ['officer', 'manager', 'inspector', 'client']

export const places: readonly Place[] = [
  { path: '/today', name: 'Today', roles: ['inspector'] },
  { path: '/ground', name: 'Ground', roles: ['officer', 'manager', 'inspector'] },
  { path: '/trees', name: 'Trees', roles: everyone },
  { path: '/rounds', name: 'Rounds', roles: office },
  { path: '/works', name: 'Works', roles: everyone },
  { path: '/hotspots', name: 'Hotspots', roles: ['officer', 'manager', 'client'] },
  { path: '/records', name: 'Records', roles: ['officer', 'manager', 'client'] },
]

/** The places of a role, in their order on the head. */
export const placesOf = (role: Role): readonly Place[] => places.filter((place) => place.roles.includes(role))
/** Where a role begins its day. */
export const firstPlaceOf = (role: Role): string => placesOf(role)[0]!.path
/** May change the ground: zones, trees, policy, rounds. */
export const mayChange = (role: Role): boolean => role === 'officer' || role === 'manager'
