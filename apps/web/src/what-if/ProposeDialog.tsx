import { type RiskWord, riskWords, type WorkKind } from '@underbough/model'
import { workNames } from '@underbough/rating'
import { useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import { Button, capital, Dialog, Field, Refusals, refusalAt, Select } from '../look/index.ts'
import { useProposeWork } from '../tree/hooks.ts'

/** A change tried out becomes a work, with what would remain written into it. The record stays as it is: it says what stands. */
export function ProposeDialog({
  treeId,
  treeName,
  kind,
  words,
  onClose,
  onProposed,
}: {
  treeId: string
  treeName: string
  kind: WorkKind
  words: string
  onClose(): void
  onProposed(): void
}) {
  const [description, setDescription] = useState(words.slice(0, 400))
  const [dueOn, setDueOn] = useState('')
  const [residualRisk, setResidual] = useState<RiskWord | null>(null)
  const propose = useProposeWork()
  const refusals = refusalsOf(propose.error)
  return (
    <Dialog
      title={`Propose to ${workNames[kind]}`}
      isOpen
      isDismissable={false}
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={propose.isPending || description.trim() === ''}
            onPress={() =>
              propose.mutate(
                {
                  id: crypto.randomUUID(),
                  treeId,
                  visitId: null,
                  kind,
                  description: description.trim(),
                  dueOn: dueOn || null,
                  cost: null,
                  residualRisk,
                },
                { onSuccess: onProposed },
              )
            }
          >
            Propose it
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <p className="s q">A work of {treeName}. The record of the tree and of the zone stays as it is.</p>
      <Field
        label="In words"
        multiline
        value={description}
        onChange={setDescription}
        refusal={
          refusalAt(refusals, 'description') ?? (description.length > 400 ? 'At most 400 letters.' : null)
        }
      />
      <Field
        label="Due on"
        type="date"
        value={dueOn}
        onChange={setDueOn}
        hint="Empty: the deadline of its risk"
      />
      <Select
        label="Risk that would remain, as you judge it"
        value={residualRisk}
        options={riskWords.map((value) => ({ value, label: capital(value) }))}
        onChange={(word) => setResidual(word)}
      />
      <Refusals title="The work was not kept." refusals={refusals} />
    </Dialog>
  )
}
