import type { Here } from './dayHere.ts'
import type { useFix } from './useFix.ts'

/** What every change of the day is given. */
export interface ChangeProps {
  here: Here
  position: ReturnType<typeof useFix>
  onClose(): void
}
