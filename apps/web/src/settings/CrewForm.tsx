import { type Crew, isCivilDate, type Member, type Position } from '@underbough/model'
import { useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import { Button, Dialog, Field, NumberField, Refusals, refusalAt, Select, Tick } from '../look/index.ts'
import { type CrewInput, useKeepCrew, useRemoveCrew } from './hooks.ts'
import { readList, readMinute, sayMinute, weekdayNames } from './hours.ts'

const levels = [
  { value: '1', label: '1, limited' },
  { value: '2', label: '2, basic' },
  { value: '3', label: '3, advanced' },
] as const
type LevelText = (typeof levels)[number]['value']
const usualDay = { fromMinute: 480, toMinute: 960 }

interface CrewFormProps {
  crew: Crew | null
  /** Letters that other crews bear. */
  taken: readonly string[]
  people: readonly Member[]
  /** Where a new crew's day begins until somebody says otherwise. */
  place: Position
  onClose(): void
}
/** A crew's hours, level, equipment, people, and where its day begins and ends. */
export function CrewForm({ crew, taken, people, place, onClose }: CrewFormProps) {
  const [input, setInput] = useState<CrewInput>(() => (crew ? inputOf(crew) : fresh(taken, place)))
  const [equipment, setEquipment] = useState(() => input.equipment.join(', '))
  const [daysOff, setDaysOff] = useState(() => input.daysOff.join(', '))
  const keep = useKeepCrew()
  const remove = useRemoveCrew()
  const refusals = refusalsOf(keep.error ?? remove.error)
  const set = (change: Partial<CrewInput>) => setInput((now) => ({ ...now, ...change }))
  const at = (path: string) => refusalAt(refusals, path)
  const noDay = readList(daysOff).find((day) => !isCivilDate(day))
  const clash = taken.includes(input.letter) ? `Another crew bears the letter ${input.letter}.` : null
  const save = () =>
    keep.mutate(
      {
        ...input,
        equipment: readList(equipment),
        daysOff: readList(daysOff),
        ...(crew ? { id: crew.id, version: crew.version } : {}),
      },
      { onSuccess: onClose },
    )
  return (
    <Dialog
      title={crew ? crew.name : 'A new crew'}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={keep.isPending || noDay !== undefined || clash !== null}
            onPress={save}
          >
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
          {crew ? (
            <Button
              kind="quiet"
              className="sp"
              isDisabled={remove.isPending}
              onPress={() => remove.mutate(crew.id, { onSuccess: onClose })}
            >
              Let the crew go
            </Button>
          ) : null}
        </>
      }
    >
      <Refusals title="It was not kept." refusals={refusals} kept="The crew stands as it was." />
      <div className="pair">
        <Field label="Name" value={input.name} refusal={at('name')} onChange={(name) => set({ name })} />
        <Field
          label="Letter on the map"
          value={input.letter}
          refusal={clash ?? at('letter')}
          onChange={(letter) => set({ letter: letter.toUpperCase().slice(0, 1) })}
        />
      </div>
      <HoursRows hours={input.hours} at={at} onChange={(hours) => set({ hours })} />
      <div className="pair">
        <NumberField
          label="Break"
          unit="minutes"
          value={input.breakMinutes}
          refusal={at('breakMinutes')}
          onChange={(breakMinutes) => set({ breakMinutes: breakMinutes ?? 0 })}
        />
        <Select<LevelText>
          label="Highest level of visit"
          value={String(input.level) as LevelText}
          options={levels}
          refusal={at('level')}
          onChange={(level) => set({ level: Number(level) as Crew['level'] })}
        />
      </div>
      <Field
        label="Equipment"
        value={equipment}
        hint="Parted by commas."
        refusal={at('equipment')}
        onChange={setEquipment}
      />
      <Field
        label="Days off"
        value={daysOff}
        hint="Parted by commas, written 2026-12-25."
        refusal={noDay ? `“${noDay}” is no day of the calendar. Write it as 2026-12-25.` : at('daysOff')}
        onChange={setDaysOff}
      />
      <fieldset className="members">
        <legend className="field-label">Members</legend>
        {people
          .filter((p) => p.role !== 'client')
          .map((person) => (
            <Tick
              key={person.personId}
              isSelected={input.memberIds.includes(person.personId)}
              onChange={(on) =>
                set({
                  memberIds: on
                    ? [...input.memberIds, person.personId]
                    : input.memberIds.filter((id) => id !== person.personId),
                })
              }
            >
              {person.name} <span className="s q">{person.role}</span>
            </Tick>
          ))}
        {at('memberIds') ? <p className="field-refusal">{at('memberIds')}</p> : null}
      </fieldset>
      <PlaceFields
        label="Day begins"
        value={input.start}
        refusal={at('start')}
        onChange={(start) => set({ start })}
      />
      <PlaceFields label="Day ends" value={input.end} refusal={at('end')} onChange={(end) => set({ end })} />
    </Dialog>
  )
}

const inputOf = ({ id: _, version: __, createdAt: ___, updatedAt: ____, ...input }: Crew): CrewInput => input
const fresh = (taken: readonly string[], place: Position): CrewInput => {
  const letter = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'.split('').find((l) => !taken.includes(l)) ?? 'Z'
  return {
    name: `Crew ${letter}`,
    letter,
    level: 2,
    equipment: [],
    memberIds: [],
    start: place,
    end: place,
    hours: [usualDay, usualDay, usualDay, usualDay, usualDay, null, null],
    breakMinutes: 30,
    daysOff: [],
  }
}

/** Seven days; a day without a tick is free. */
function HoursRows({
  hours,
  at,
  onChange,
}: {
  hours: CrewInput['hours']
  at(path: string): string | null
  onChange(hours: CrewInput['hours']): void
}) {
  const put = (i: number, day: CrewInput['hours'][number]) =>
    onChange(hours.map((h, j) => (j === i ? day : h)))
  return (
    <fieldset className="week-hours">
      <legend className="field-label">Working hours</legend>
      {hours.map((day, i) => (
        <div key={weekdayNames[i]} className="week-day">
          <Tick isSelected={day !== null} onChange={(on) => put(i, on ? usualDay : null)}>
            {weekdayNames[i]}
          </Tick>
          {day ? (
            <>
              <TimeLine
                label={`${weekdayNames[i]} from`}
                minute={day.fromMinute}
                onChange={(fromMinute) => put(i, { ...day, fromMinute })}
              />
              <span className="q">to</span>
              <TimeLine
                label={`${weekdayNames[i]} to`}
                minute={day.toMinute}
                onChange={(toMinute) => put(i, { ...day, toMinute })}
              />
            </>
          ) : (
            <span className="s q">no work</span>
          )}
          {at(`hours.${i}`) ? <p className="field-refusal">{at(`hours.${i}`)}</p> : null}
        </div>
      ))}
    </fieldset>
  )
}

function TimeLine({
  label,
  minute,
  onChange,
}: {
  label: string
  minute: number
  onChange(minute: number): void
}) {
  const [text, setText] = useState(() => sayMinute(minute))
  const read = readMinute(text)
  return (
    <input
      className="field-line time-line"
      aria-label={label}
      aria-invalid={read === null}
      inputMode="numeric"
      value={text}
      onChange={(event) => {
        setText(event.target.value)
        const next = readMinute(event.target.value)
        if (next !== null) onChange(next)
      }}
      onBlur={() => setText(sayMinute(read ?? minute))}
    />
  )
}

function PlaceFields(props: {
  label: string
  value: Position
  refusal: string | null
  onChange(place: Position): void
}) {
  const { label, value, refusal, onChange } = props
  return (
    <div className="pair">
      <NumberField
        label={`${label}, longitude`}
        unit="degrees"
        value={value[0]}
        refusal={refusal}
        onChange={(lon) => onChange([lon ?? 0, value[1]])}
      />
      <NumberField
        label={`${label}, latitude`}
        unit="degrees"
        value={value[1]}
        onChange={(lat) => onChange([value[0], lat ?? 0])}
      />
    </div>
  )
}
