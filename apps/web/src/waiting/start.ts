import { startSending } from '../keep/index.ts'
import { enterLeftReadings } from '../probes/store.ts'
import { enterLeftVisits } from '../visit/store.ts'

/** Call once: what waits on this device begins to go, first of all what an older version of the program left. */
export async function start(): Promise<void> {
  try {
    await enterLeftVisits()
    await enterLeftReadings()
  } catch (error) {
    console.error(
      'What an older version left could not be entered; it is tried again at the next start.',
      error,
    )
  }
  startSending()
}
