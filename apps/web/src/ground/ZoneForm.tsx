import {
  type AreaGeometry,
  type OccupancyWord,
  occupancyWords,
  type Zone,
  type ZoneInput,
  type ZoneKind,
  zoneKinds,
} from '@underbough/model'
import { ZoneSwatch, zoneNames } from '@underbough/pictures'
import { useState } from 'react'
import { refusalsOf, useKeepZone, useRemoveZone } from '../api/index.ts'
import { Button, Dialog, Field, Notice, Refusals, refusalAt, Select, Tick } from '../look/index.ts'
import { ProfileFields } from './ProfileFields.tsx'
import { profileOf, usualProfile } from './profile.ts'
import { SeasonsEdit } from './SeasonsEdit.tsx'
import { ZoneMore } from './ZoneMore.tsx'
import './zone-form.css'

const occupancyHints: Record<OccupancyWord, string> = {
  rare: 'now and then',
  occasional: 'part of the day',
  frequent: 'much of the day',
  constant: 'nearly always',
}
interface ZoneFormProps {
  /** The zone to change; with `drawn` a new one from its outline. */
  zone?: Zone
  drawn?: AreaGeometry
  siteId?: string | null
  onClose(): void
  onKept?(zone: Zone): void
  onRemoved?(): void
}

/** Name, kind and who is there. A change here opens the ratings that rest on this zone again. */
export function ZoneForm({ zone, drawn, siteId = null, onClose, onKept, onRemoved }: ZoneFormProps) {
  const [input, setInput] = useState<ZoneInput>(() => zone ?? freshZone(drawn!, siteId))
  const keep = useKeepZone()
  const remove = useRemoveZone()
  const refusals = [...refusalsOf(keep.error), ...refusalsOf(remove.error)]
  const set = (change: Partial<ZoneInput>) => setInput((now) => ({ ...now, ...change }))
  const save = () =>
    keep.mutate(zone ? { ...input, id: zone.id, version: zone.version } : input, {
      onSuccess: (kept) => {
        onKept?.(kept)
        onClose()
      },
    })
  return (
    <Dialog
      title={zone ? zone.name : 'A new target zone'}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button kind="do" onPress={save} isDisabled={keep.isPending}>
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
          {zone ? (
            <Button
              kind="quiet"
              className="sp"
              isDisabled={remove.isPending}
              onPress={() => remove.mutate(zone.id, { onSuccess: onRemoved })}
            >
              Take it off the map
            </Button>
          ) : null}
        </>
      }
    >
      <Refusals
        title="The zone was not kept."
        refusals={refusals}
        kept={zone ? 'It stands as it was.' : 'The outline is still here.'}
      />
      <Field
        label="Name"
        value={input.name}
        onChange={(name) => set({ name })}
        refusal={refusalAt(refusals, 'name')}
        isRequired
        autoFocus
      />
      <Select
        label="Kind"
        value={input.kind}
        options={zoneKinds.map((value) => ({
          value,
          label: zoneNames[value],
          picture: <ZoneSwatch kind={value} widthPx={24} heightPx={14} hidden />,
        }))}
        onChange={(kind: ZoneKind) =>
          set(
            zone
              ? { kind }
              : {
                  kind,
                  occupancy: profileOf(usualProfile[kind], input.occupancyWord),
                  staticTarget: kind === 'building',
                },
          )
        }
      />
      <Select
        label="The trade’s word for how much it is used"
        value={input.occupancyWord}
        options={occupancyWords.map((value) => ({ value, label: value, hint: occupancyHints[value] }))}
        onChange={(word: OccupancyWord) =>
          set({
            occupancyWord: word,
            ...(input.occupancy.kind === 'class' ? { occupancy: { ...input.occupancy, word } } : {}),
          })
        }
      />
      <Tick isSelected={input.staticTarget} onChange={(staticTarget) => set({ staticTarget })}>
        A structure that is always there
      </Tick>
      <ProfileFields
        profile={input.occupancy}
        word={input.occupancyWord}
        onChange={(occupancy) => set({ occupancy })}
      />
      <SeasonsEdit
        seasons={input.seasons ?? []}
        week={input.occupancy}
        word={input.occupancyWord}
        refusalFor={(path) => refusalAt(refusals, path)}
        onChange={(seasons) => set({ seasons })}
      />
      <ZoneMore zone={zone} input={input} set={set} refusalFor={(path) => refusalAt(refusals, path)} />
      {zone ? (
        <Notice tone="mind">
          Ratings that name this zone are opened again when its use or its people change.
        </Notice>
      ) : null}
    </Dialog>
  )
}

function freshZone(geometry: AreaGeometry, siteId: string | null): ZoneInput {
  return {
    siteId,
    name: '',
    kind: 'seating',
    geometry,
    fromLine: null,
    occupancyWord: 'occasional',
    occupancy: profileOf('standing', 'occasional'),
    seasons: [],
    groupSize: null,
    staticTarget: false,
    shelterHeightM: null,
    shelterClass: null,
    valueAtStake: null,
    partOf: null,
    note: '',
  }
}
