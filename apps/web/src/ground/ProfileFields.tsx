import { peopleByHour } from '@underbough/exposure'
import type { OccupancyProfile, OccupancyWord } from '@underbough/model'
import { useState } from 'react'
import { capital, Notice, NumberField, Select } from '../look/index.ts'
import { BandRows } from './BandRows.tsx'
import { bandsOf, hoursOf } from './bands.ts'
import { HoursPicture } from './HoursPicture.tsx'
import { type ProfileKind, profileKinds, profileNames, profileOf } from './profile.ts'

interface ProfileProps {
  profile: OccupancyProfile
  word: OccupancyWord
  onChange(profile: OccupancyProfile): void
}

/** Who is there in one week: what kind of coming and going it is, its figures, and its hours with their picture. */
export function ProfileFields({ profile, word, onChange }: ProfileProps) {
  return (
    <>
      <Select
        label="Who is there"
        value={profile.kind}
        options={profileKinds.map((value) => ({ value, label: capital(profileNames[value]) }))}
        onChange={(kind: ProfileKind) => onChange(profileOf(kind, word))}
      />
      <Figures key={profile.kind} profile={profile} onChange={onChange} />
      <div className="hours-live">
        <HoursPicture people={peopleByHour(profile)} />
        <p className="s q">People there by hour of the day. Bars: working days; broken line: weekends.</p>
      </div>
    </>
  )
}

function Figures({ profile, onChange }: Omit<ProfileProps, 'word'>) {
  const number = (label: string, unit: string, value: number, put: (n: number) => OccupancyProfile) => (
    <NumberField label={label} unit={unit} value={value} onChange={(n) => n !== null && onChange(put(n))} />
  )
  const hours = (
    what: string,
    counted: string,
    now: number[],
    put: (hours: number[]) => OccupancyProfile,
  ) => <Hours what={what} counted={counted} hours={now} onChange={(next) => onChange(put(next))} />
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
          {hours('people who come, an hour', 'People', profile.arrivalsPerHour, (arrivalsPerHour) => ({
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
          {hours('people an hour, both ways', 'People', profile.flowPerHour, (flowPerHour) => ({
            ...profile,
            flowPerHour,
          }))}
        </>
      )
    case 'building':
      return hours('people inside', 'Inside', profile.peopleInside, (peopleInside) => ({
        ...profile,
        peopleInside,
      }))
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
            {number('Lanes, both ways', 'lanes', profile.lanes ?? 2, (lanes) => ({
              ...profile,
              lanes: Math.max(1, Math.round(lanes)),
            }))}
          </div>
          <NumberField
            label="A driver sees ahead"
            unit="m"
            value={profile.sightDistanceM ?? null}
            hint="Empty where nobody measured it. Shorter than the way a car needs to stop, and more vehicles may drive into what lies there."
            onChange={(sightDistanceM) => onChange({ ...profile, sightDistanceM })}
          />
          {hours('vehicles an hour, both ways', 'Vehicles', profile.flowPerHour, (flowPerHour) => ({
            ...profile,
            flowPerHour,
          }))}
        </>
      )
  }
}

/** More than these are folded away under their picture. */
const FEW_BANDS = 6

function Hours({
  what,
  counted,
  hours,
  onChange,
}: {
  what: string
  /** What one figure counts, in a word. */
  counted: string
  hours: number[]
  onChange(hours: number[]): void
}) {
  const [{ bands, exact }, setBands] = useState(() => bandsOf(hours))
  const rows = (
    <BandRows
      bands={bands}
      what={counted}
      onChange={(next) => {
        setBands({ bands: next, exact: true })
        onChange(hoursOf(next))
      }}
    />
  )
  return (
    <div className="hours-edit">
      <h3>{capital(what)}</h3>
      {exact ? null : (
        <Notice tone="mind">
          These hours differ from day to day. The bands below are their means; changing one replaces the days.
        </Notice>
      )}
      {bands.length > FEW_BANDS ? (
        <details className="hours-all">
          <summary>{bands.length} bands of hours, one by one</summary>
          {rows}
        </details>
      ) : (
        rows
      )}
    </div>
  )
}
