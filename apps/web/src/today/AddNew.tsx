import type { ScenarioPart } from '@underbough/model'
import { useState } from 'react'
import type { TreeRow } from '../api/index.ts'
import { Button, Refusals } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { callTree, foundFallen } from './acts.ts'
import { Cautions } from './Cautions.tsx'
import type { ChangeProps } from './change.ts'
import { Fallen } from './Fallen.tsx'
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
      <TreePicker around={placeHere(props.here.whole, props.position.whereabouts)} onPick={setKnown} />
      <Button big onPress={() => setNew(true)}>
        It is not on record
      </Button>
    </>
  )
}

function KnownFallen({ tree, onClose }: ChangeProps & { tree: TreeRow }) {
  const me = usePerson()
  const [part, setPart] = useState<ScenarioPart | null>(null)
  const [lies, setLies] = useState<number | null>(null)
  const { act, busy, refusals } = useAct('that it was found fallen', onClose)
  return (
    <>
      <p>
        <b>{callTree(tree)}</b>
      </p>
      <Fallen part={part} lies={lies} onPart={setPart} onLies={setLies} />
      <p className="q">If people are at risk from what is left, begin a visit and send the urgent note.</p>
      <Refusals title="It was not recorded." refusals={refusals} />
      <Button
        kind="do"
        big
        isDisabled={busy || !part}
        onPress={() => act(() => foundFallen(me, tree, part!, lies))}
      >
        Record it as found fallen
      </Button>
    </>
  )
}
