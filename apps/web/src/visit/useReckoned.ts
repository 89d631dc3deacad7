import { useMemo, useState } from 'react'
import { device, useLive } from '../keep/index.ts'
import { dueHere, type Reckoned } from './reckon.ts'
import type { VisitHandle } from './useVisit.ts'

/** Office minus device at their last contact, ms; null where there was none. */
export const useClockOffset = (): number | null =>
  useLive<number | null>(
    'clock',
    async () => ((await device.remembered.get('clockOffsetMs'))?.value as number | undefined) ?? null,
    null,
  )

/** When the tree will be due once this visit is closed, worked out on this device as the visit stands. */
export function useReckoned({ draft, kept }: VisitHandle): Reckoned {
  const offset = useClockOffset()
  const [now] = useState(() => new Date())
  return useMemo(() => dueHere(kept.ground, draft, now, offset), [kept.ground, draft, now, offset])
}
