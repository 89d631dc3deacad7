import {
  protections,
  type Refusal,
  type Tree,
  type TreeInput,
  treeInput,
  treeLimits,
  treeStatuses,
} from '@underbough/model'
import { useState } from 'react'
import { isSilence, Refused, refusalsOf, useKeepTree } from '../api/index.ts'
import { refusalOfKeeping } from '../keep/index.ts'
import {
  Button,
  capital,
  Dialog,
  Field,
  Notice,
  NumberField,
  Refusals,
  refusalAt,
  Select,
  Tick,
  Words,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { keepChange, useWaitingChange } from './change.ts'
import { changedFields, type Difference, differences, merged, type TreeField } from './conflict.ts'
import { protectionNames, statusNames } from './facts.ts'
import { fieldNames, sayField } from './fieldWords.ts'

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
      <Beside
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
      <Fields draft={draft} set={set} refusalFor={(path) => refusalAt(refusals, path)} />
    </Dialog>
  )
}

interface FieldsProps {
  draft: TreeInput
  set<K extends TreeField>(field: K, value: TreeInput[K]): void
  refusalFor(path: string): string | null
}

/** All fields in the order in which one measures. Long because it is one form. */
function Fields({ draft, set, refusalFor }: FieldsProps) {
  const radii = draft.crownRadiiM
  const tall =
    draft.heightM !== null && draft.heightM > treeLimits.heightM
      ? `${draft.heightM} m is taller than any tree. Did you mean ${draft.heightM / 10}?`
      : refusalFor('heightM')
  return (
    <>
      <div className="two">
        <Field label="Tag" value={draft.tag} onChange={(v) => set('tag', v)} refusal={refusalFor('tag')} />
        <Select
          label="It is"
          value={draft.status}
          options={treeStatuses.map((value) => ({ value, label: capital(statusNames[value]) }))}
          onChange={(v) => set('status', v)}
        />
      </div>
      {draft.status === 'gone' || draft.status === 'stump' ? (
        <Field
          label="Gone on"
          type="date"
          value={draft.goneOn ?? ''}
          onChange={(v) => set('goneOn', v || null)}
          refusal={refusalFor('goneOn')}
        />
      ) : null}
      <Field
        label="Species, botanical"
        value={draft.species}
        onChange={(v) => set('species', v)}
        refusal={refusalFor('species')}
      />
      <Field
        label="Common name"
        value={draft.commonName ?? ''}
        onChange={(v) => set('commonName', v || null)}
      />
      <Stems draft={draft} set={set} refusalFor={refusalFor} />
      <div className="two">
        <NumberField
          label="Height"
          unit="m"
          value={draft.heightM}
          onChange={(v) => set('heightM', v)}
          refusal={tall}
        />
        <NumberField
          label="Crown base"
          unit="m"
          value={draft.crownBaseHeightM}
          onChange={(v) => set('crownBaseHeightM', v)}
          refusal={refusalFor('crownBaseHeightM')}
        />
      </div>
      <fieldset className="tree-fieldset">
        <legend className="field-label">Crown radii, all four or none</legend>
        <div className="tree-four">
          {(['n', 'e', 's', 'w'] as const).map((side) => (
            <NumberField
              key={side}
              label={{ n: 'North', e: 'East', s: 'South', w: 'West' }[side]}
              unit="m"
              value={radii?.[side] ?? null}
              onChange={(v) => set('crownRadiiM', radiiWith(radii, side, v))}
            />
          ))}
        </div>
        {refusalFor('crownRadiiM') ? <p className="field-refusal">{refusalFor('crownRadiiM')}</p> : null}
      </fieldset>
      <div className="two">
        <NumberField
          label="Lean"
          unit="degrees from upright"
          value={draft.lean?.angleDeg ?? null}
          onChange={(v) =>
            set('lean', v === null ? null : { angleDeg: v, bearingDeg: draft.lean?.bearingDeg ?? 0 })
          }
          refusal={refusalFor('lean')}
        />
        <NumberField
          label="Leans to"
          unit="degrees from north"
          value={draft.lean?.bearingDeg ?? null}
          onChange={(v) => set('lean', draft.lean ? { ...draft.lean, bearingDeg: turned(v ?? 0) } : null)}
          isDisabled={!draft.lean}
        />
      </div>
      <NumberField
        label="Clearing lies to"
        unit="degrees from north"
        value={draft.clearingBearingDeg}
        onChange={(v) => set('clearingBearingDeg', v === null ? null : turned(v))}
        hint="For a tree on an edge; empty where it stands free."
      />
      <Field label="Owner" value={draft.owner ?? ''} onChange={(v) => set('owner', v || null)} />
      <div className="tree-ticks">
        {protections.map((word) => (
          <Tick
            key={word}
            isSelected={draft.protections.includes(word)}
            onChange={(on) =>
              set(
                'protections',
                on ? [...draft.protections, word] : draft.protections.filter((p) => p !== word),
              )
            }
          >
            {capital(protectionNames[word])}
          </Tick>
        ))}
        <Tick isSelected={draft.powerLinesNear} onChange={(on) => set('powerLinesNear', on)}>
          Power lines near
        </Tick>
        <Tick isSelected={draft.deadOrBrittle} onChange={(on) => set('deadOrBrittle', on)}>
          Dead or brittle
        </Tick>
        <Tick
          isSelected={draft.group !== null}
          onChange={(on) => set('group', on ? { count: 2, outline: null } : null)}
        >
          A group of trees
        </Tick>
      </div>
      {draft.group ? (
        <NumberField
          label="Trees in the group"
          unit="at least 2"
          value={draft.group.count}
          onChange={(v) => set('group', { ...draft.group!, count: Math.round(v ?? 2) })}
          refusal={refusalFor('group')}
        />
      ) : null}
      <Field label="Note" multiline value={draft.note ?? ''} onChange={(v) => set('note', v)} />
    </>
  )
}

const turned = (degrees: number) => ((degrees % 360) + 360) % 360
type Radii = NonNullable<TreeInput['crownRadiiM']>
function radiiWith(radii: TreeInput['crownRadiiM'], side: keyof Radii, value: number | null) {
  if (value === null && radii) {
    const rest = { ...radii, [side]: 0 }
    return Object.values(rest).every((r) => r === 0) ? null : rest
  }
  return value === null ? null : { ...(radii ?? { n: 0, e: 0, s: 0, w: 0 }), [side]: value }
}

function Stems({ draft, set, refusalFor }: FieldsProps) {
  const put = (i: number, part: Partial<TreeInput['stems'][number]>) =>
    set(
      'stems',
      draft.stems.map((stem, at) => (at === i ? { ...stem, ...part } : stem)),
    )
  return (
    <>
      {draft.stems.map((stem, i) => (
        <div className="tree-stem" key={i}>
          <NumberField
            label={draft.stems.length > 1 ? `Stem ${i + 1}` : 'Stem'}
            unit="cm across"
            value={stem.diameterCm}
            onChange={(v) => put(i, { diameterCm: v ?? 0 })}
            refusal={refusalFor(`stems.${i}`)}
          />
          <NumberField
            label="measured at"
            unit="m"
            value={stem.measuredAtM}
            onChange={(v) => put(i, { measuredAtM: v ?? 1.3 })}
          />
          <Button
            kind="quiet"
            onPress={() =>
              set(
                'stems',
                draft.stems.filter((_, at) => at !== i),
              )
            }
          >
            Take out
          </Button>
        </div>
      ))}
      <div>
        <Button
          kind="quiet"
          onPress={() =>
            set('stems', [
              ...draft.stems,
              { diameterCm: 30, measuredAtM: draft.stems[0]?.measuredAtM ?? 1.3 },
            ])
          }
        >
          {draft.stems.length > 0 ? 'Another stem' : 'Enter a stem'}
        </Button>
      </div>
    </>
  )
}

function Beside(props: {
  rows: Difference[]
  onChange(rows: Difference[]): void
  onKeep(): void
  onClose(): void
  isPending: boolean
}) {
  const { rows, onChange, onKeep, onClose, isPending } = props
  return (
    <Dialog
      title="Two people, one tree"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button kind="do" onPress={onKeep} isDisabled={isPending}>
            Keep what is chosen
          </Button>
          <Button onPress={onClose}>Leave the stored record</Button>
        </>
      }
    >
      <Notice tone="mind" title="Somebody else changed this record while you had it open.">
        Both are shown; choose for each line which one stands. Nothing of yours was written yet.
      </Notice>
      {rows.length === 0 ? (
        <p>The two records say the same now.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th>Field</th>
              <th>Stored now</th>
              <th>Yours</th>
              <th>Stands</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row, i) => (
              <tr key={row.field}>
                <td>{fieldNames[row.field]}</td>
                <td>{sayField(row.field, row.theirs)}</td>
                <td>{sayField(row.field, row.mine)}</td>
                <td>
                  <Words
                    label={`${fieldNames[row.field]}: which stands`}
                    value={row.choice}
                    options={[
                      { value: 'theirs', label: 'stored' },
                      { value: 'mine', label: 'yours' },
                    ]}
                    onChange={(choice) => onChange(rows.map((r, at) => (at === i ? { ...r, choice } : r)))}
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </Dialog>
  )
}
