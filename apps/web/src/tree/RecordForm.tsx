import { type Refusal, type Tree, type TreeInput, treeInput } from '@underbough/model'
import { useState } from 'react'
import { isSilence, Refused, refusalsOf, useKeepTree } from '../api/index.ts'
import { refusalOfKeeping } from '../keep/index.ts'
import { Button, Dialog, Notice, Refusals, refusalAt } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { keepChange, useWaitingChange } from './change.ts'
import { changedFields, type Difference, differences, merged, type TreeField } from './conflict.ts'
import { fieldNames } from './fieldWords.ts'
import { RecordBeside } from './RecordBeside.tsx'
import { RecordFields } from './RecordFields.tsx'

/** Nobody answered, or asked to sign in first: the change is kept here and goes by itself. */
const goesLater = (error: unknown) =>
  isSilence(error) || (error instanceof Refused && error.has('signed-out'))
const inputOf = (tree: Tree): TreeInput => treeInput.parse(tree)

/** The record of a tree, edited. Somebody else's change meanwhile is shown beside one's own, field by field. */
export function RecordForm({
  tree,
  onlyHere = false,
  onClose,
}: {
  tree: Tree
  /** The office has not got the tree yet. */
  onlyHere?: boolean
  onClose(): void
}) {
  const me = usePerson()
  const waiting = useWaitingChange(tree.id, me.personId)
  const [base, setBase] = useState(() => ({ input: inputOf(tree), version: tree.version }))
  const [own, setDraft] = useState<TreeInput | null>(null)
  const [unkept, setUnkept] = useState<Refusal | null>(null)
  const draft = own ?? waiting?.body.tree ?? base.input
  const [beside, setBeside] = useState<Difference[] | null>(null)
  const keep = useKeepTree()
  const set = <K extends TreeField>(field: K, value: TreeInput[K]) => setDraft({ ...draft, [field]: value })
  const changed = changedFields(base.input, draft)
  const silent = keep.error !== null && goesLater(keep.error)
  const refusals = [
    ...(waiting && !own ? waiting.entry.refusals : []),
    ...(unkept ? [unkept] : []),
    ...(silent ? [] : refusalsOf(keep.error)),
  ]

  const later = (input: TreeInput) =>
    keepChange(tree, input, me.personId).then(onClose, (error) =>
      setUnkept(refusalOfKeeping(error, 'the change')),
    )
  const send = (input: TreeInput, version: number) => {
    setUnkept(null)
    // A change that waits is mended on the device, and one of a tree that waits too: the office must not get the newer one first.
    if (waiting || onlyHere) return void later(input)
    keep.mutate(
      { ...input, id: tree.id, version },
      {
        onSuccess: onClose,
        onError: (error) => {
          if (goesLater(error)) return void later(input)
          if (!(error instanceof Refused) || !error.current) return
          const stored = error.current as Tree
          const theirs = inputOf(stored)
          setBeside(differences(base.input, input, theirs))
          setBase({ input: theirs, version: stored.version })
          setDraft(input)
        },
      },
    )
  }

  if (beside)
    return (
      <RecordBeside
        rows={beside}
        onChange={setBeside}
        isPending={keep.isPending}
        onClose={onClose}
        onKeep={() => {
          setBeside(null)
          send(merged(base.input, beside), base.version)
        }}
      />
    )
  return (
    <Dialog
      title={`The record of ${tree.tag}`}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            onPress={() => send(draft, base.version)}
            isDisabled={keep.isPending || changed.length === 0}
          >
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <Refusals
        title="The record was not kept."
        refusals={refusals}
        kept="What you entered still stands here."
      />
      {changed.length > 0 ? (
        <Notice tone="mind" title="Changed here, not kept:">
          {changed.map((field) => fieldNames[field].toLowerCase()).join(', ')}.
        </Notice>
      ) : null}
      <RecordFields draft={draft} set={set} refusalFor={(path) => refusalAt(refusals, path)} />
    </Dialog>
  )
}
