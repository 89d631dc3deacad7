import { useState } from 'react'
import { Button, Dialog, Select, Tick, useGroundWish, wishGround } from '../look/index.ts'
import { wishes } from '../shell/wishes.ts'
import { WalkOverPick } from '../walk-over/WalkOverPick.tsx'
import { AddKnown } from './AddKnown.tsx'
import { AddNew } from './AddNew.tsx'
import type { ChangeProps } from './change.ts'
import { hasEndedStop } from './facts.ts'
import { HandOver } from './HandOver.tsx'
import { Order } from './Order.tsx'
import { Replan } from './Replan.tsx'
import { saveGpx } from './saveGpx.ts'
import type { WakeState } from './useWakeLock.ts'

type What = 'order' | 'replan' | 'known' | 'new' | 'fallen' | 'hand'

const titles: Record<What, string> = {
  order: 'The order of the stops',
  replan: 'Plan the rest from here',
  known: 'Put a tree on the day',
  new: 'A tree that is not on record',
  fallen: 'Found fallen',
  hand: 'Hand stops to another crew',
}

/** Everything a crew can change about its day, and what it takes along. */
export default function ChangeDialog(
  props: ChangeProps & { wake: { on: boolean; state: WakeState; set(on: boolean): void } },
) {
  const [what, setWhat] = useState<What | null>(null)
  const [walking, setWalking] = useState(false)
  const { here, onClose, wake } = props
  const open = here.whole.daySheet.stops.filter((stop) => !hasEndedStop(stop)).length
  if (walking) return <WalkOverPick onClose={onClose} />
  if (what)
    return (
      <Dialog title={titles[what]} isOpen onClose={onClose}>
        <Part what={what} {...props} />
      </Dialog>
    )
  return (
    <Dialog title="Change the day" isOpen onClose={onClose}>
      <div className="changes">
        <Button big isDisabled={open < 2} onPress={() => setWhat('order')}>
          Change the order
        </Button>
        <Button big isDisabled={open < 2} onPress={() => setWhat('replan')}>
          Plan the rest from here
        </Button>
        <Button big onPress={() => setWhat('known')}>
          Put a tree on the day
        </Button>
        <Button big onPress={() => setWhat('new')}>
          A tree that is not on record
        </Button>
        <Button big onPress={() => setWhat('fallen')}>
          Found fallen
        </Button>
        <Button
          big
          isDisabled={open === 0 || here.whole.otherCrews.length === 0}
          onPress={() => setWhat('hand')}
        >
          Hand stops to another crew
        </Button>
        <Button big onPress={() => setWalking(true)}>
          Walk over a zone
        </Button>
        <Button big onPress={() => saveGpx(here.whole)}>
          Take the way along as GPX
        </Button>
      </div>
      <Wake {...wake} />
      <GroundSelect />
    </Dialog>
  )
}

function Part({ what, ...props }: ChangeProps & { what: What }) {
  switch (what) {
    case 'order':
      return <Order {...props} />
    case 'replan':
      return <Replan {...props} />
    case 'known':
      return <AddKnown {...props} />
    case 'hand':
      return <HandOver {...props} />
    default:
      return <AddNew {...props} fallen={what === 'fallen'} />
  }
}

const wakeWords: Record<WakeState, string> = {
  off: 'It goes dark as the device has it.',
  held: 'It stays lit while this page is in front.',
  lost: 'The device let it go dark, to save power perhaps. It is asked again when this page comes to the front.',
  none: 'This browser cannot do that.',
}
function Wake({ on, state, set }: { on: boolean; state: WakeState; set(on: boolean): void }) {
  return (
    <div>
      <Tick isSelected={on} onChange={set} isDisabled={state === 'none'}>
        Keep the screen lit
      </Tick>
      <p className="q" role="status">
        {wakeWords[state]}
      </p>
    </div>
  )
}

function GroundSelect() {
  return <Select label="Ground" value={useGroundWish()} options={wishes} onChange={wishGround} />
}
