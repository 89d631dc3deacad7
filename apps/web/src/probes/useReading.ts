import type { Refusal } from '@underbough/model'
import { acceptBorders, proposeSegments, readTrace } from '@underbough/wood'
import { useRef, useState } from 'react'
import { refusalOfKeeping } from '../keep/index.ts'
import { checkReading } from './check.ts'
import { handIn, type KeptBorders, type KeptReading, keepReading, putAwayReading } from './store.ts'
import { barkHintOf, columnsOf } from './trace.ts'
import type { Values } from './values.ts'

export interface ReadingHandle {
  kept: KeptReading
  values: Values
  change(part: Partial<Values>): void
  setVisit(visitId: string): void
  refusals: readonly Refusal[]
  /** Rises with each press that found something missing, so that the form goes to it. */
  asked: number
  sending: boolean
  /** Why the last change is not on this device; null while all is. */
  unkept: Refusal | null
  hand(): Promise<void>
  putAway(): Promise<void>
}

/** A reading while it is entered: every change is kept on the device at once; handed in, it goes to the office after its visit. */
export function useReading(initial: KeptReading, onHanded: (readingId: string) => void): ReadingHandle {
  const [kept, setKept] = useState(initial)
  const [refusals, setRefusals] = useState<readonly Refusal[]>(initial.refusals)
  const [asked, setAsked] = useState(0)
  const [sending, setSending] = useState(false)
  const [unkept, setUnkept] = useState<Refusal | null>(null)
  const now = useRef(initial)

  const put = async (next: KeptReading): Promise<boolean> => {
    now.current = next
    setKept(next)
    try {
      await keepReading(next)
      setUnkept(null)
      return true
    } catch (error) {
      setUnkept(refusalOfKeeping(error, 'this reading'))
      return false
    }
  }
  const check = ({ values, id, visitId }: KeptReading) => checkReading(values, id, visitId)
  const change = (part: Partial<Values>) => {
    const next = { ...now.current, values: { ...now.current.values, ...part }, keptAt: Date.now() }
    void put(next)
    // A trace takes too long to be read again with each letter.
    if (asked > 0 && next.values.kind !== 'drill-trace') setRefusals(reasons(check(next)))
  }

  const hand = async () => {
    const checked = check(now.current)
    setRefusals(reasons(checked))
    if (!checked.ok) return setAsked((times) => times + 1)
    setSending(true)
    const handed = { ...now.current, probe: checked.value, refusals: [], keptAt: Date.now() }
    try {
      await handIn(handed, standOf(handed))
      onHanded(initial.id)
    } catch (error) {
      setUnkept(refusalOfKeeping(error, 'this reading'))
    } finally {
      setSending(false)
    }
  }

  return {
    kept,
    values: kept.values,
    change,
    setVisit: (visitId) => void put({ ...now.current, visitId, keptAt: Date.now() }),
    refusals,
    asked,
    sending,
    unkept,
    hand,
    putAway: async () => {
      await putAwayReading(initial.id)
    },
  }
}
const reasons = (checked: ReturnType<typeof checkReading>) => (checked.ok ? [] : checked.refusals)

/** Borders a person stands by go after the trace; moved ones that nobody took stay on the device with it. */
function standOf({ id, treeId, personId, values: { kind, trace } }: KeptReading): KeptBorders | null {
  const columns = columnsOf(trace)
  if (kind !== 'drill-trace' || !columns || (trace.stand === 'proposed' && !trace.borders)) return null
  const read = readTrace(trace.raw, columns)
  if (!read.ok) return null
  const proposed = proposeSegments(read.value, barkHintOf(trace))
  const stand = trace.borders ?? proposed
  const checked = acceptBorders(proposed, stand, read.value.depthsCm.at(-1) ?? 0)
  return {
    probeId: id,
    treeId,
    personId,
    input: {
      id: crypto.randomUUID(),
      barkCm: stand.barkCm,
      segments: stand.segments,
      moved: !checked.ok || checked.value.moved,
      note: '',
    },
    accepted: trace.stand === 'accepted' && checked.ok,
    refusals: checked.ok ? [] : checked.refusals,
    keptAt: Date.now(),
  }
}
