import type { Refusal } from '@underbough/model'
import { useState } from 'react'
import { refusalOfKeeping } from '../keep/index.ts'

/** Runs what a person enters; says it aloud where this device could not keep it. `what` names it: `the new order`. */
export function useAct(what: string, onKept: () => void) {
  const [refusals, setRefusals] = useState<Refusal[]>([])
  const [busy, setBusy] = useState(false)
  const act = async (enterIt: () => Promise<unknown>) => {
    setBusy(true)
    try {
      await enterIt()
      onKept()
    } catch (error) {
      setRefusals([refusalOfKeeping(error, what)])
    } finally {
      setBusy(false)
    }
  }
  return { act, busy, refusals }
}
