import type { CivilDate, WalkOverInput } from '@underbough/model'
import { useState } from 'react'
import { refusalsOf, useZone, useZones } from '../api/index.ts'
import { Button, count, Dialog, Field, Loading, Refusals, refusalAt, Select } from '../look/index.ts'
import { useKeepWalkOver } from './hooks.ts'

/** One limited look over a whole zone: all trees there on one day, and a note only where something was seen. */
export function WalkOverForm({
  today,
  onClose,
  onKept,
}: {
  today: CivilDate
  onClose(): void
  onKept(words: string): void
}) {
  const zones = useZones()
  const keep = useKeepWalkOver()
  const [input, setInput] = useState<WalkOverInput>(() => ({
    id: crypto.randomUUID(),
    zoneId: '',
    on: today,
    notes: [],
    remark: '',
  }))
  const set = (change: Partial<WalkOverInput>) => setInput((now) => ({ ...now, ...change }))
  const refusals = refusalsOf(keep.error)
  const future = input.on > today ? 'That day has not come yet.' : null
  const name = zones.data?.find((zone) => zone.id === input.zoneId)?.name ?? ''
  const save = () =>
    keep.mutate(
      { ...input, notes: input.notes.filter(({ note }) => note.trim()) },
      { onSuccess: () => onKept(`The walk-over of ${name} is kept.`) },
    )
  return (
    <Dialog
      title="A walk-over"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={!input.zoneId || !input.on || future !== null || keep.isPending}
            onPress={save}
          >
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <p className="q">
        All trees over a zone looked at in one go: a limited look. Only those where something was seen need a
        note; a tree that needs more is given a visit of its own.
      </p>
      <Refusals title="It was not kept." refusals={refusals} kept="What you wrote is still here." />
      <Select
        label="Zone"
        value={input.zoneId || null}
        options={(zones.data ?? []).map(({ id, name }) => ({ value: id, label: name }))}
        refusal={refusalAt(refusals, 'zoneId')}
        onChange={(zoneId) => set({ zoneId, notes: [] })}
      />
      <Field
        label="Day"
        type="date"
        value={input.on}
        refusal={future ?? refusalAt(refusals, 'on')}
        onChange={(on) => set({ on })}
      />
      {input.zoneId ? (
        <TreeNotes zoneId={input.zoneId} notes={input.notes} onChange={(notes) => set({ notes })} />
      ) : null}
      <Field
        label="Remark on the whole"
        value={input.remark}
        multiline
        refusal={refusalAt(refusals, 'remark')}
        onChange={(remark) => set({ remark })}
      />
    </Dialog>
  )
}

function TreeNotes({
  zoneId,
  notes,
  onChange,
}: {
  zoneId: string
  notes: WalkOverInput['notes']
  onChange(notes: WalkOverInput['notes']): void
}) {
  const zone = useZone(zoneId)
  if (!zone.data) return <Loading>Fetching its trees.</Loading>
  const { trees, treesTotal } = zone.data
  const noted = new Set(notes.map((n) => n.treeId))
  const nameOf = (id: string) => {
    const tree = trees.find((t) => t.id === id)
    return tree ? `${tree.tag} ${tree.commonName ?? tree.species}` : ''
  }
  return (
    <>
      <p className="s q">{count(treesTotal, 'tree')} over this zone.</p>
      {notes.map(({ treeId, note }) => (
        <Field
          key={treeId}
          label={`Note on ${nameOf(treeId)}`}
          value={note}
          onChange={(text) => onChange(notes.map((n) => (n.treeId === treeId ? { ...n, note: text } : n)))}
        />
      ))}
      <Select
        label="Add a note on a tree"
        value={null}
        placeholder="Choose a tree"
        options={trees.filter((t) => !noted.has(t.id)).map(({ id }) => ({ value: id, label: nameOf(id) }))}
        onChange={(treeId) => onChange([...notes, { treeId, note: '' }])}
      />
    </>
  )
}
