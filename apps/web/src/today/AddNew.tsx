import type { ScenarioPart, Tree } from '@underbough/model'
import { useState } from 'react'
import { type TreeRow, useTree } from '../api/index.ts'
import { Button, Refusals } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { callTree, foundFallen, goesWith } from './acts.ts'
import { Cautions } from './Cautions.tsx'
import type { ChangeProps } from './change.ts'
import { Fallen } from './Fallen.tsx'
import { FallenKept } from './FallenKept.tsx'
import { NewTreeForm } from './NewTreeForm.tsx'
import { placeHere } from './placeHere.ts'
import { TreePicker } from './TreePicker.tsx'
import { useAct } from './useAct.ts'

/** A tree nobody had on record; or a tree, known or not, that was found fallen. */
export function AddNew(props: ChangeProps & { fallen: boolean }) {
  const [isNew, setNew] = useState(!props.fallen)
  const [known, setKnown] = useState<TreeRow | null>(null)
  if (isNew) return <NewTreeForm {...props} />
  if (known) return <KnownFallen {...props} tree={known} />
  return (
    <>
      <Cautions />
      <TreePicker
        date={props.here.whole.date}
        around={placeHere(props.here.whole, props.position.whereabouts)}
        onPick={setKnown}
      />
      <Button big onPress={() => setNew(true)}>
        It is not on record
      </Button>
    </>
  )
}

function KnownFallen({ tree, onClose }: ChangeProps & { tree: TreeRow }) {
  const me = usePerson()
  const record = useTree(tree.id).data?.tree ?? null
  const [failureId] = useState(() => crypto.randomUUID())
  const [part, setPart] = useState<ScenarioPart | null>(null)
  const [lies, setLies] = useState<number | null>(null)
  const [kept, setKept] = useState(false)
  const { act, busy, refusals } = useAct('that it was found fallen', () => setKept(true))
  const treeName = callTree(record ?? tree)
  if (kept) return <FallenKept treeId={tree.id} treeName={treeName} failureId={failureId} onClose={onClose} />
  return (
    <>
      <p>
        <b>{treeName}</b>
      </p>
      <Fallen part={part} lies={lies} onPart={setPart} onLies={setLies} />
      {part ? <p className="q">{sayRecord(part, record)}</p> : null}
      <Refusals title="It was not recorded." refusals={refusals} />
      <Button
        kind="do"
        big
        isDisabled={busy || !part}
        onPress={() => act(() => foundFallen(me, { failureId, tree, record, part: part!, lies }))}
      >
        Record it as found fallen
      </Button>
    </>
  )
}

/** What becomes of the record, before it is entered. */
function sayRecord(part: ScenarioPart, record: Tree | null): string {
  if (part !== 'whole-tree') return 'Its record stays as it is: what is left of the tree still stands.'
  if (!record)
    return 'The record of this tree is not on this phone, so it goes on saying that the tree stands until the officer changes it.'
  return goesWith(part, record.status)
    ? 'Its record will say that it is gone, from today on. It keeps its place and all its records.'
    : 'Its record says already that it does not stand.'
}
