/** What a page may ask of the house around it. */
export { AsOf } from './AsOf.tsx'
export { ActionBar } from './FootBar.tsx'
export { useKeeping } from './keeping.ts'
export { usePerson } from './person.ts'
export { mayChange } from './places.ts'
