import { useState } from 'react'
import type { Stop } from '../api/index.ts'
import { Button, Dialog, Refusals } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { callTree, skipStop } from './acts.ts'
import { Reason } from './Reason.tsx'
import { useAct } from './useAct.ts'

const usual = [
  'Gate locked',
  'Nobody to let us in',
  'Vehicles in the way',
  'Too windy',
  'Water over the ground',
  'No time left',
] as const

/** Ends a stop without a visit, with the reason. */
export function SkipDialog({ stop, onClose }: { stop: Stop; onClose(): void }) {
  const me = usePerson()
  const [reason, setReason] = useState('')
  const { act, busy, refusals } = useAct('that this stop was skipped', onClose)
  return (
    <Dialog
      title={`Skip ${callTree(stop.tree)}`}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            big
            isDisabled={reason.trim() === '' || busy}
            onPress={() => act(() => skipStop(me, stop, reason.trim()))}
          >
            Skip this stop
          </Button>
          <Button big onPress={onClose}>
            Keep it
          </Button>
        </>
      }
    >
      <p>Its due date stays as it is; the office sees the reason.</p>
      <Reason label="Why it is skipped" usual={usual} value={reason} onChange={setReason} />
      <Refusals title="The stop was not skipped." refusals={refusals} />
    </Dialog>
  )
}
