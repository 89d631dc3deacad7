import { useEffect, useState } from 'react'
import { Button, Refusals } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { callTree, orderDay } from './acts.ts'
import type { ChangeProps } from './change.ts'
import { type Replanned, replan } from './replan.ts'
import { useAct } from './useAct.ts'

/** Shows what a shorter order would move and save, before it is taken. */
export function Replan({ here, position: { whereabouts }, onClose }: ChangeProps) {
  const me = usePerson()
  const [found, setFound] = useState<Replanned | null>(null)
  const { act, busy, refusals } = useAct('the new order', onClose)
  const [from] = useState(whereabouts.state === 'here' ? whereabouts.fix.position : null)
  const { timeZone } = me.organisation
  useEffect(() => {
    // The dialog is drawn before the search takes the processor.
    const timer = setTimeout(() => setFound(replan(here.whole, from, timeZone)), 50)
    return () => clearTimeout(timer)
  }, [here.whole, from, timeZone])
  if (!found) return <p role="status">Looking for a shorter order.</p>
  const begins = from ? 'from where the phone is' : 'from the last stop with an end'
  const { moves, savesMinutes, stopIds } = found
  if (moves.length === 0)
    return (
      <>
        <p role="status">{`No shorter order was found ${begins}. The day stays as it is.`}</p>
        <Button big onPress={onClose}>
          Back to the day
        </Button>
      </>
    )
  return (
    <>
      <p role="status">
        <b>{`Saves ${sayMinutes(savesMinutes)} on the way`}</b>
        {`, reckoned ${begins} to the end of the day by straight lines.`}
      </p>
      <ol className="order">
        {moves.map(({ stop, from: was, to }) => (
          <li key={stop.id}>
            <span className="order-name">{callTree(stop.tree)}</span>
            <span className="q">{`${was} becomes ${to}`}</span>
          </li>
        ))}
      </ol>
      <Refusals title="The order was not kept." refusals={refusals} />
      <Button
        kind="do"
        big
        isDisabled={busy}
        onPress={() => act(() => orderDay(me, here.whole, stopIds, `Planned anew ${begins}.`))}
      >
        Take this order
      </Button>
      <Button big onPress={onClose}>
        Leave it as it is
      </Button>
    </>
  )
}

const sayMinutes = (minutes: number) => (minutes < 1 ? 'under a minute' : `${Math.round(minutes)} min`)
