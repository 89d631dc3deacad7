import { useState } from 'react'
import { Answers, Button, Refusals, Tick } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { callTree, handOver } from './acts.ts'
import type { ChangeProps } from './change.ts'
import { hasEndedStop, sayStop } from './facts.ts'
import { Reason } from './Reason.tsx'
import { useAct } from './useAct.ts'

const usual = ['Called away', 'A lift is needed', 'More than the day holds', 'Nearer to them'] as const

/** Open stops go to another crew's day of the same date, with the reason. */
export function HandOver({ here, onClose }: ChangeProps) {
  const me = usePerson()
  const { daySheet, otherCrews } = here.whole
  const open = daySheet.stops.filter((stop) => !hasEndedStop(stop))
  const [ids, setIds] = useState<readonly string[]>([])
  const [crew, setCrew] = useState<string | null>(null)
  const [reason, setReason] = useState('')
  const { act, busy, refusals } = useAct('the hand-over', onClose)
  const deepest = Math.max(0, ...open.filter((stop) => ids.includes(stop.id)).map((stop) => stop.level))
  const able = otherCrews.filter((one) => one.level >= deepest)
  const to = able.some((one) => one.id === crew) ? crew : null
  return (
    <>
      <fieldset className="picks" aria-label="Stops to hand over">
        {open.map((stop) => (
          <Tick
            key={stop.id}
            isSelected={ids.includes(stop.id)}
            onChange={(on) => setIds(on ? [...ids, stop.id] : ids.filter((id) => id !== stop.id))}
          >
            {callTree(stop.tree)} <span className="q">{sayStop(stop)}</span>
          </Tick>
        ))}
      </fieldset>
      <Answers
        label="To which crew"
        value={to}
        options={able.map((one) => ({ value: one.id, label: one.name }))}
        onChange={setCrew}
        hint={
          able.length < otherCrews.length
            ? 'Only crews that make looks of the level asked are named.'
            : undefined
        }
      />
      <Reason label="Why they are handed over" usual={usual} value={reason} onChange={setReason} />
      <p className="q">The other crew sees them when its phone next reaches the office. Call them too.</p>
      <Refusals title="Nothing was handed over." refusals={refusals} />
      <Button
        kind="do"
        big
        isDisabled={busy || ids.length === 0 || !to || reason.trim() === ''}
        onPress={() => act(() => handOver(me, here.whole, to!, [...ids], reason.trim()))}
      >
        {ids.length === 1 ? 'Hand over 1 stop' : `Hand over ${ids.length} stops`}
      </Button>
    </>
  )
}
