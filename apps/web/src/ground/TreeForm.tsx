import { blankTree, type Position, type Tree, treeLimits } from '@underbough/model'
import { useState } from 'react'
import { refusalsOf, useKeepTree } from '../api/index.ts'
import { Button, Dialog, Field, NumberField, Refusals, refusalAt } from '../look/index.ts'

interface TreeFormProps {
  position: Position
  siteId: string | null
  square: string | null
  onClose(): void
  onKept(tree: Tree): void
}

/** A tree put on the map: its tag and species are enough; what is not measured stays unknown. */
export function TreeForm({ position, siteId, square, onClose, onKept }: TreeFormProps) {
  const [tag, setTag] = useState('')
  const [species, setSpecies] = useState('')
  const [commonName, setCommonName] = useState('')
  const [heightM, setHeightM] = useState<number | null>(null)
  const [diameterCm, setDiameterCm] = useState<number | null>(null)
  const keep = useKeepTree()
  const refusals = refusalsOf(keep.error)
  const tall =
    heightM !== null && heightM > treeLimits.heightM
      ? `${heightM} m is taller than any tree. Did you mean ${heightM / 10}?`
      : null
  const thick =
    diameterCm !== null && diameterCm > treeLimits.stemDiameterCm
      ? `${diameterCm} cm is thicker than any tree. Was it measured in mm?`
      : null
  const save = () => {
    const tree = blankTree({
      siteId,
      tag,
      species,
      commonName: commonName.trim() || null,
      position,
      stems: diameterCm === null ? [] : [{ diameterCm, measuredAtM: 1.3 }],
      heightM,
    })
    keep.mutate(tree, {
      onSuccess: (kept) => {
        onKept(kept)
        onClose()
      },
    })
  }
  return (
    <Dialog
      title={square ? `A tree in square ${square}` : 'A tree'}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            onPress={save}
            isDisabled={keep.isPending || !tag.trim() || !species.trim() || tall !== null || thick !== null}
          >
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <Refusals title="The tree was not kept." refusals={refusals} />
      <Field
        label="Tag"
        value={tag}
        onChange={setTag}
        refusal={refusalAt(refusals, 'tag')}
        isRequired
        autoFocus
      />
      <Field
        label="Species, botanical"
        value={species}
        onChange={setSpecies}
        refusal={refusalAt(refusals, 'species')}
        isRequired
      />
      <Field label="Common name" value={commonName} onChange={setCommonName} />
      <div className="two">
        <NumberField label="Height" unit="m" value={heightM} onChange={setHeightM} refusal={tall} />
        <NumberField
          label="Stem at 1.3 m"
          unit="cm"
          value={diameterCm}
          onChange={setDiameterCm}
          refusal={thick}
        />
      </div>
      <p className="s q">
        {position[1].toFixed(6)}, {position[0].toFixed(6)}. What is not measured stays unknown.
      </p>
    </Dialog>
  )
}
