import {
  type AreaGeometry,
  type OccupancyProfile,
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
} from '../look/index.ts'
import { BandRows } from './BandRows.tsx'
import { bandsOf, hoursOf } from './bands.ts'

type ProfileKind = OccupancyProfile['kind']
const profileNames: Record<ProfileKind, string> = {
  class: 'only the trade’s word is known',
  standing: 'people come and stay a while',
  through: 'people walk or ride through',
  building: 'people are inside a building',
  vehicles: 'vehicles pass',
}
const occupancyHints: Record<OccupancyWord, string> = {
  rare: 'now and then',
  occasional: 'part of the day',
  frequent: 'much of the day',
  constant: 'nearly always',
}
const usual: Record<ZoneKind, ProfileKind> = {
  building: 'building',
  road: 'vehicles',
  footpath: 'through',
  play: 'standing',
  seating: 'standing',
  parking: 'standing',
  utility: 'class',
}
const nobody = () => new Array<number>(168).fill(0)

/** A fresh profile of a kind, with nobody in it; figures are the person's to give. */
function profileOf(kind: ProfileKind, word: OccupancyWord): OccupancyProfile {
  if (kind === 'class') return { kind, word, peopleWhenPresent: 1 }
  if (kind === 'standing') return { kind, arrivalsPerHour: nobody(), minutesEach: 30 }
  if (kind === 'through') return { kind, flowPerHour: nobody(), speedMps: 1.4, lengthM: 20 }
  if (kind === 'building') return { kind, peopleInside: nobody() }
  return { kind, flowPerHour: nobody(), speedKmh: 40, lengthM: 20, peoplePerVehicle: 1.5 }
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
                  occupancy: profileOf(usual[kind], input.occupancyWord),
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
      <Select
        label="Who is there"
        value={input.occupancy.kind}
        options={(Object.keys(profileNames) as ProfileKind[]).map((value) => ({
          value,
          label: capital(profileNames[value]),
        }))}
        onChange={(kind: ProfileKind) => set({ occupancy: profileOf(kind, input.occupancyWord) })}
      />
      <ProfileFields profile={input.occupancy} onChange={(occupancy) => set({ occupancy })} />
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
    staticTarget: false,
    shelterHeightM: null,
    shelterClass: null,
    valueAtStake: null,
    partOf: null,
    note: '',
  }
}

function ProfileFields({
  profile,
  onChange,
}: {
  profile: OccupancyProfile
  onChange(profile: OccupancyProfile): void
}) {
  const number = (label: string, unit: string, value: number, put: (n: number) => OccupancyProfile) => (
    <NumberField label={label} unit={unit} value={value} onChange={(n) => n !== null && onChange(put(n))} />
  )
  const hours = (what: string, now: number[], put: (hours: number[]) => OccupancyProfile) => (
    <Hours what={what} hours={now} onChange={(next) => onChange(put(next))} />
  )
  switch (profile.kind) {
    case 'class':
      return number('When somebody is there', 'people', profile.peopleWhenPresent, (peopleWhenPresent) => ({
        ...profile,
        peopleWhenPresent,
      }))
    case 'standing':
      return (
        <>
          {number('Each stays', 'minutes', profile.minutesEach, (minutesEach) => ({
            ...profile,
            minutesEach,
          }))}
          {hours('people who come, an hour', profile.arrivalsPerHour, (arrivalsPerHour) => ({
            ...profile,
            arrivalsPerHour,
          }))}
        </>
      )
    case 'through':
      return (
        <>
          <div className="two">
            {number('Speed', 'm/s', profile.speedMps, (speedMps) => ({ ...profile, speedMps }))}
            {number('Their way inside it', 'm', profile.lengthM, (lengthM) => ({ ...profile, lengthM }))}
          </div>
          {hours('people an hour, both ways', profile.flowPerHour, (flowPerHour) => ({
            ...profile,
            flowPerHour,
          }))}
        </>
      )
    case 'building':
      return hours('people inside', profile.peopleInside, (peopleInside) => ({ ...profile, peopleInside }))
    case 'vehicles':
      return (
        <>
          <div className="two">
            {number('Speed', 'km/h', profile.speedKmh, (speedKmh) => ({ ...profile, speedKmh }))}
            {number('Road inside it', 'm', profile.lengthM, (lengthM) => ({ ...profile, lengthM }))}
            {number('In each vehicle', 'people', profile.peoplePerVehicle, (peoplePerVehicle) => ({
              ...profile,
              peoplePerVehicle,
            }))}
          </div>
          {hours('vehicles an hour, both ways', profile.flowPerHour, (flowPerHour) => ({
            ...profile,
            flowPerHour,
          }))}
        </>
      )
  }
}

function Hours({
  what,
  hours,
  onChange,
}: {
  what: string
  hours: number[]
  onChange(hours: number[]): void
}) {
  const [{ bands, exact }, setBands] = useState(() => bandsOf(hours))
  return (
    <div className="hours-edit">
      <h3>{capital(what)}</h3>
      {exact ? null : (
        <Notice tone="mind">
          These hours differ from day to day. The bands below are their means; changing one replaces the days.
        </Notice>
      )}
      <BandRows
        bands={bands}
        onChange={(next) => {
          setBands({ bands: next, exact: true })
          onChange(hoursOf(next))
        }}
      />
    </div>
  )
}
