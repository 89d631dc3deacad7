import type { GroundWish } from '../look/index.ts'

/** How a person may wish to see the program, in words. */
export const wishes: readonly { value: GroundWish; label: string }[] = [
  { value: 'system', label: 'As the device asks' },
  { value: 'paper', label: 'Paper, by day' },
  { value: 'bark', label: 'Bark, by night' },
  { value: 'sun', label: 'Sun, black on white' },
]
