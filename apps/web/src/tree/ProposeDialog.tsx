import { type RiskWord, riskWords, type WorkKind, workKinds } from '@underbough/model'
import { workNames } from '@underbough/rating'
import { useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import { Button, capital, Dialog, Field, Refusals, refusalAt, Select } from '../look/index.ts'
import { useProposeWork } from './hooks.ts'

const LONGEST = 400

/** What is written down before a work is proposed. A tried change gives its kind and words, and asks only for the rest. */
export function ProposeDialog({
  treeId,
  tried,
  onClose,
  onProposed,
}: {
  treeId: string
  /** A change that was tried out: the record stays as it is, it says what stands. */
  tried?: { treeName: string; kind: WorkKind; words: string }
  onClose(): void
  onProposed(): void
}) {
  const [kind, setKind] = useState<WorkKind>(tried?.kind ?? 'prune')
  const [description, setDescription] = useState(tried?.words.slice(0, LONGEST) ?? '')
  const [dueOn, setDueOn] = useState('')
  const [residualRisk, setResidual] = useState<RiskWord | null>(null)
  const propose = useProposeWork()
  const refusals = refusalsOf(propose.error)
  const tooLong = tried && description.length > LONGEST ? `At most ${LONGEST} letters.` : null
  return (
    <Dialog
      title={tried ? `Propose to ${workNames[tried.kind]}` : 'Propose a work'}
      isOpen
      isDismissable={!tried}
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
      {tried ? (
        <p className="s q">
          A work of {tried.treeName}. The record of the tree and of the zone stays as it is.
        </p>
      ) : (
        <Select
          label="What"
          value={kind}
          options={workKinds.map((value) => ({ value, label: capital(workNames[value]) }))}
          onChange={(word) => setKind(word)}
        />
      )}
      <Field
        label="In words"
        multiline
        value={description}
        onChange={setDescription}
        refusal={refusalAt(refusals, 'description') ?? tooLong}
      />
      <Field
        label="Due on"
        type="date"
        value={dueOn}
        onChange={setDueOn}
        hint="Empty: the deadline of its risk"
      />
      <Select
        label={tried ? 'Risk that would remain, as you judge it' : 'Risk that would remain'}
        value={residualRisk}
        options={riskWords.map((value) => ({ value, label: capital(value) }))}
        onChange={(word) => setResidual(word)}
      />
      <Refusals title="The work was not kept." refusals={refusals} />
    </Dialog>
  )
}
