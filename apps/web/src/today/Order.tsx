import { useState } from 'react'
import { Button, Refusals } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { callTree, orderDay } from './acts.ts'
import type { ChangeProps } from './change.ts'
import { reckoned } from './dayHere.ts'
import { movedTo, useDragOrder } from './dragOrder.ts'
import { clock, hasEndedStop } from './facts.ts'
import { useAct } from './useAct.ts'

/** The open stops, each drawn to its place or moved up or down by a press. What has an end is not moved. */
export function Order({ here, onClose }: ChangeProps) {
  const me = usePerson()
  const { daySheet } = here.whole
  const open = daySheet.stops.filter((stop) => !hasEndedStop(stop))
  const [ids, setIds] = useState(open.map((stop) => stop.id))
  const [said, setSaid] = useState('')
  const { act, busy, refusals } = useAct('the new order', onClose)
  const stops = ids.flatMap((id) => open.find((stop) => stop.id === id) ?? [])
  const move = (at: number, by: number) => {
    setIds(movedTo(ids, ids[at]!, at + by))
    setSaid(`${stops[at]!.tree.tag} is now ${at + by + 1} of ${ids.length}.`)
  }
  const { held, grip } = useDragOrder((id, at) => setIds((now) => movedTo(now, id, at)))
  return (
    <>
      <ol className="order">
        {stops.map((stop, i) => (
          <li key={stop.id} className={held === stop.id ? 'order-held' : undefined}>
            <span className="order-grip" aria-hidden="true" {...grip(stop.id)}>
              <Grip />
            </span>
            <span className="order-name">{`${i + 1}. ${callTree(stop.tree)}`}</span>
            <Button aria-label={`${stop.tree.tag} earlier`} isDisabled={i === 0} onPress={() => move(i, -1)}>
              <Chevron up />
            </Button>
            <Button
              aria-label={`${stop.tree.tag} later`}
              isDisabled={i === stops.length - 1}
              onPress={() => move(i, 1)}
            >
              <Chevron />
            </Button>
          </li>
        ))}
      </ol>
      <p className="out-of-sight" role="status">
        {said}
      </p>
      <p className="q">{sayBack(here.whole, ids)}</p>
      <Refusals title="The order was not kept." refusals={refusals} />
      <Button kind="do" big isDisabled={busy} onPress={() => act(() => orderDay(me, here.whole, ids, ''))}>
        Go in this order
      </Button>
    </>
  )
}

/** When the crew would be back, and what that changes. */
function sayBack(whole: ChangeProps['here']['whole'], ids: readonly string[]): string {
  const { stops, endMinute } = whole.daySheet
  const ended = stops.filter(hasEndedStop)
  const next = [...ended, ...ids.flatMap((id) => stops.find((stop) => stop.id === id) ?? [])]
  const there = (order: typeof stops) =>
    reckoned({ ...whole, daySheet: { ...whole.daySheet, stops: order } }, null).daySheet.endMinute
  const more = there(next) - there(stops)
  if (more === 0) return `Back by ${clock(endMinute)}, as before.`
  return `${Math.abs(more)} min ${more > 0 ? 'more' : 'less'} on the way.`
}

function Grip() {
  return (
    <svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
      <path d="M3 6H17M3 10H17M3 14H17" fill="none" stroke="currentColor" strokeWidth="2" />
    </svg>
  )
}

function Chevron({ up }: { up?: boolean }) {
  return (
    <svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
      <path
        d={up ? 'M4 13L10 7L16 13' : 'M4 7L10 13L16 7'}
        fill="none"
        stroke="currentColor"
        strokeWidth="2"
      />
    </svg>
  )
}
