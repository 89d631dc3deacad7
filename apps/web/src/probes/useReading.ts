import { useQueryClient } from '@tanstack/react-query'
import type { Refusal } from '@underbough/model'
import { acceptBorders, proposeSegments, readTrace } from '@underbough/wood'
import { useRef, useState } from 'react'
import { api, refusalsOf } from '../api/index.ts'
import { countWaiting } from '../visit/send.ts'
import { checkReading } from './check.ts'
import { sendReadings } from './send.ts'
import { type KeptReading, keepBorders, keepReading, putAwayReading, readingHere } from './store.ts'
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
  /** Whether the browser keeps nothing: then what is typed lives on this page alone. */
  unkept: boolean
  hand(): Promise<void>
  putAway(): Promise<void>
}

/** What became of a reading that was handed in. */
export type Handed = 'in-the-office' | 'on-this-device'

/** A reading while it is entered: every change is kept on the device at once; handed in, it goes to the office after its visit. */
export function useReading(initial: KeptReading, onHanded: (handed: Handed) => void): ReadingHandle {
  const [kept, setKept] = useState(initial)
  const [refusals, setRefusals] = useState<readonly Refusal[]>(initial.refusals)
  const [asked, setAsked] = useState(0)
  const [sending, setSending] = useState(false)
  const [unkept, setUnkept] = useState(false)
  const now = useRef(initial)
  const memory = useQueryClient()

  const put = async (next: KeptReading): Promise<boolean> => {
    const isFirst = now.current.keptAt === 0
    now.current = next
    setKept(next)
    try {
      await keepReading(next)
      if (isFirst) await countWaiting()
      return true
    } catch {
      setUnkept(true)
      return false
    }
  }
  const comeBack = (left: KeptReading) => {
    now.current = left
    setKept(left)
    setRefusals(left.refusals)
    setAsked((times) => times + 1)
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
    try {
      const isKept = await put({ ...now.current, probe: checked.value, refusals: [], keptAt: Date.now() })
      if (!isKept) {
        // A browser that keeps nothing has no queue: it goes now or not at all.
        await api.post('/probes', checked.value)
        onHanded('in-the-office')
        return
      }
      await keepStand(now.current)
      await sendReadings(now.current.personId)
      const left = await readingHere(initial.id)
      if (left && !left.probe) return comeBack(left)
      void memory.invalidateQueries({ queryKey: ['tree', initial.treeId] })
      onHanded(left ? 'on-this-device' : 'in-the-office')
    } catch (error) {
      comeBack({ ...now.current, probe: null, refusals: refusalsOf(error) })
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
      await countWaiting()
    },
  }
}
const reasons = (checked: ReturnType<typeof checkReading>) => (checked.ok ? [] : checked.refusals)

/** Borders a person stands by go after the trace; moved ones that nobody took stay on the device with it. */
async function keepStand({ id, treeId, personId, values: { kind, trace } }: KeptReading): Promise<void> {
  const columns = columnsOf(trace)
  if (kind !== 'drill-trace' || !columns || (trace.stand === 'proposed' && !trace.borders)) return
  const read = readTrace(trace.raw, columns)
  if (!read.ok) return
  const proposed = proposeSegments(read.value, barkHintOf(trace))
  const stand = trace.borders ?? proposed
  const checked = acceptBorders(proposed, stand, read.value.depthsCm.at(-1) ?? 0)
  await keepBorders({
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
  })
}
