import type { CivilDate } from '@underbough/model'
import { useEffect, useRef, useState } from 'react'
import { device, enter } from '../keep/device.ts'
import { dropWalk, keepWalk, keptWalk, newWalk, type Walk, walkOverOf } from './walk.ts'

/** A walk-over as it is made: each change stands on the device at once, and closing it enters it for the office. */
export function useWalk(zoneId: string, personId: string, today: CivilDate) {
  const [walk, setWalk] = useState<Walk | null>(null)
  const [entered, setEntered] = useState(false)
  const [fault, setFault] = useState<string | null>(null)
  const last = useRef<Walk | null>(null)
  useEffect(() => {
    let here = true
    const begin = (kept: Walk | null) => {
      if (!here) return
      last.current = kept ?? newWalk(zoneId, today, crypto.randomUUID())
      setWalk(last.current)
    }
    keptWalk(zoneId, personId).then(begin, () => begin(null))
    return () => {
      here = false
    }
  }, [zoneId, personId, today])

  const notKept = () => setFault('This device could not keep it: it may be out of room. Nothing is lost yet.')
  const change = (part: Partial<Walk>) => {
    if (!last.current) return
    last.current = { ...last.current, ...part }
    setWalk(last.current)
    keepWalk(last.current, personId).then(() => setFault(null), notKept)
  }
  const close = async (listed: readonly string[], zoneName: string) => {
    const made = last.current
    if (!made) return
    try {
      await device.transaction('rw', device.entries, device.remembered, async () => {
        await enter('walk-over', walkOverOf(made, listed), {
          authorId: personId,
          subjectId: made.id,
          treeId: null,
          label: `Walk-over of ${zoneName}`,
        })
        await dropWalk(zoneId, personId)
      })
      setEntered(true)
    } catch {
      notKept()
    }
  }
  return { walk, change, close, entered, fault }
}
