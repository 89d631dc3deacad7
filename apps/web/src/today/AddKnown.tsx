import type { VisitLevel } from '@underbough/model'
import { useState } from 'react'
import type { TreeRow } from '../api/index.ts'
import { Button, Notice, Refusals } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { addStop, callTree } from './acts.ts'
import type { ChangeProps } from './change.ts'
import { hasEndedStop } from './facts.ts'
import { Level } from './Level.tsx'
import { placeHere } from './placeHere.ts'
import { Reason } from './Reason.tsx'
import { TreePicker } from './TreePicker.tsx'
import { useAct } from './useAct.ts'

const usual = ['Something new to see', 'Asked for on the spot', 'On our way', 'Works have begun'] as const

/** A tree of the inventory comes onto the day, as its last open stop. */
export function AddKnown({ here, position, onClose }: ChangeProps) {
  const me = usePerson()
  const { daySheet, crew } = here.whole
  const [tree, setTree] = useState<TreeRow | null>(null)
  const [level, setLevel] = useState<VisitLevel>(Math.min(2, crew.level) as VisitLevel)
  const [reason, setReason] = useState('')
  const { act, busy, refusals } = useAct('this tree', onClose)
  if (!tree)
    return (
      <TreePicker
        date={here.whole.date}
        around={placeHere(here.whole, position.whereabouts)}
        onPick={setTree}
      />
    )
  const isOn = daySheet.stops.some((stop) => stop.tree.id === tree.id && !hasEndedStop(stop))
  return (
    <>
      <p>
        <b>{callTree(tree)}</b>
      </p>
      {isOn ? <Notice tone="mind">It is on the day already, and its stop is open.</Notice> : null}
      <Level most={crew.level} value={level} onChange={setLevel} />
      <Reason label="Why it is put on" usual={usual} value={reason} onChange={setReason} />
      <Refusals title="The tree was not put on the day." refusals={refusals} />
      <Button
        kind="do"
        big
        isDisabled={busy || isOn || reason.trim() === ''}
        onPress={() => act(() => addStop(me, here.whole, tree, level, reason.trim()))}
      >
        Put it on the day
      </Button>
      <Button big onPress={() => setTree(null)}>
        Another tree
      </Button>
    </>
  )
}
