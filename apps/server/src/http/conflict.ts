import { Refused } from './problem.ts'

/** Leaves because somebody else changed the record first; the stored record goes along, so that a person can choose. */
export function conflict(current: { version: number }): never {
  throw new Refused(
    [
      {
        code: 'conflict',
        path: 'version',
        value: current.version,
        message: 'Somebody else changed this record first. Look at both and save again.',
      },
    ],
    { current },
  )
}
