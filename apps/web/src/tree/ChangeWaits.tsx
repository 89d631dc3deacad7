import type { Tree } from '@underbough/model'
import { KeepingState, Notice } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { changedIn, useWaitingChange } from './change.ts'
import { fieldNames } from './fieldWords.ts'

/** Says that a change of the record is on this phone, or that the office did not take it. */
export function ChangeWaits({ tree }: { tree: Tree }) {
  const me = usePerson()
  const waiting = useWaitingChange(tree.id, me.personId)
  if (!waiting) return null
  const fields = changedIn(tree, waiting)
    .map((field) => fieldNames[field].toLowerCase())
    .join(', ')
  if (waiting.entry.state === 'refused')
    return (
      <Notice tone="refused" title={`Your change was refused: ${fields}.`}>
        {waiting.entry.refusals.map((r) => r.message).join(' ')} It stays on this phone; edit the record to
        mend it.
      </Notice>
    )
  return (
    <Notice tone="mind">
      <KeepingState keeping="on-this-phone">On this phone</KeepingState> Your change of {fields} goes to the
      office by itself. Below stands what was on record before.
    </Notice>
  )
}
