import { protections, type TreeInput, treeLimits, treeStatuses } from '@underbough/model'
import { Button, capital, Field, NumberField, Select, Tick } from '../look/index.ts'
import type { TreeField } from './conflict.ts'
import { protectionNames, statusNames } from './facts.ts'

interface FieldsProps {
  draft: TreeInput
  set<K extends TreeField>(field: K, value: TreeInput[K]): void
  refusalFor(path: string): string | null
}

/** All fields in the order in which one measures. Long because it is one form. */
export function RecordFields({ draft, set, refusalFor }: FieldsProps) {
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
      <div className="two">
        <NumberField
          label="Ground falls"
          unit="degrees from level"
          value={draft.slope?.angleDeg ?? null}
          onChange={(v) =>
            set(
              'slope',
              v === null ? null : { angleDeg: v, downhillBearingDeg: draft.slope?.downhillBearingDeg ?? 0 },
            )
          }
          refusal={refusalFor('slope')}
        />
        <NumberField
          label="Down towards"
          unit="degrees from north"
          value={draft.slope?.downhillBearingDeg ?? null}
          onChange={(v) =>
            set('slope', draft.slope ? { ...draft.slope, downhillBearingDeg: turned(v ?? 0) } : null)
          }
          isDisabled={!draft.slope}
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
