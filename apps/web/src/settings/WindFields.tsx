import { beaufortFromMps } from '@underbough/exchange/wind'
import {
  type GustThreshold,
  type Refusal,
  type WindMapping,
  type WindUnit,
  windUnitNames,
  windUnits,
} from '@underbough/model'
import { Field, NumberField, refusalAt, Select, Tick, Words } from '../look/index.ts'
import type { WindLooked } from './windHooks.ts'
import { sayForce, sayWind } from './windWords.ts'

/** What is known of a file so far; what must still be said is null or empty. */
export interface WindDraft {
  mapping: WindLooked['mapping']
  station: string
  distanceKm: number | null
  averagingSeconds: number | null
  threshold: GustThreshold
}

/** The lower edge of force 8: from here on trees shed twigs and outages rise (trade guide for utilities, p. 30). */
export const startingThreshold: GustThreshold = {
  kind: 'from',
  gustMps: Number(beaufortFromMps(8).toFixed(1)),
}

const none = ' none'
const units = windUnits.map((value) => ({ value, label: windUnitNames[value] }))
const kinds = [
  { value: 'one', label: 'one column' },
  { value: 'two', label: 'day and clock apart' },
  { value: 'parts', label: 'year, month, day, hour' },
] as const
type TimeKind = WindMapping['time']['kind']

/** How a file of hourly weather is read: columns with an example of each, units, clock, station, and what counts as strong. */
export function WindFields({
  looked,
  draft,
  refusals,
  onChange,
}: {
  looked: WindLooked
  draft: WindDraft
  refusals: readonly Refusal[]
  onChange(draft: WindDraft): void
}) {
  const { mapping } = draft
  const map = (change: Partial<WindDraft['mapping']>) =>
    onChange({ ...draft, mapping: { ...mapping, ...change } })
  const at = (path: string) => refusalAt(refusals, path)
  const columns = looked.columns.map(({ name, samples }) => ({ value: name, label: name, hint: samples[0] }))
  const column = (
    label: string,
    value: string | null,
    set: (name: string | null) => void,
    path: string,
    needed = true,
    hint?: string,
  ) => (
    <Select
      label={label}
      value={value ?? (needed ? null : none)}
      options={needed ? columns : [{ value: none, label: 'no column' }, ...columns]}
      refusal={at(path)}
      hint={hint}
      onChange={(name) => set(name === none ? null : name)}
    />
  )
  return (
    <div className="wind-fields">
      <fieldset>
        <legend>When</legend>
        <Words<TimeKind | 'none'>
          label="How the hour is written"
          value={mapping.time?.kind ?? 'none'}
          options={kinds}
          onChange={(kind) => kind !== 'none' && map({ time: emptyTime(kind) })}
        />
        <div className="wind-grid">
          {mapping.time
            ? Object.entries(mapping.time).flatMap(([key, value]) =>
                key === 'kind'
                  ? []
                  : [
                      <span key={key}>
                        {column(
                          timeWords[key] ?? key,
                          value || null,
                          (name) =>
                            map({ time: { ...mapping.time, [key]: name ?? '' } as WindMapping['time'] }),
                          `mapping.time.${key}`,
                        )}
                      </span>,
                    ],
              )
            : null}
          <Field
            label="Time zone of the file"
            value={mapping.timeZone ?? ''}
            hint="UTC, or a name such as Europe/Berlin. Where cells state it themselves, that counts."
            refusal={at('mapping.timeZone')}
            onChange={(timeZone) => map({ timeZone })}
          />
        </div>
        <Tick isSelected={mapping.dayFirst} onChange={(dayFirst) => map({ dayFirst })}>
          Days stand before months where both are figures: 31/12
        </Tick>
      </fieldset>
      <fieldset>
        <legend>Wind</legend>
        <div className="wind-grid">
          {column('Gust', mapping.gust, (gust) => map({ gust }), 'mapping.gust')}
          <Select<WindUnit>
            label="Unit of wind"
            value={mapping.unit}
            options={units}
            refusal={at('mapping.unit')}
            hint="Never guessed from the figures."
            onChange={(unit) => map({ unit })}
          />
          {column(
            'Direction, where it comes from',
            mapping.direction,
            (direction) => map({ direction }),
            'mapping.direction',
            false,
          )}
          {column(
            'Mean wind',
            mapping.mean,
            (mean) => map({ mean }),
            'mapping.mean',
            false,
            'Only to tell an instrument at fault.',
          )}
        </div>
        <Tick isSelected={mapping.zeroIsNorth} onChange={(zeroIsNorth) => map({ zeroIsNorth })}>
          A direction of 0 is north; otherwise it is calm or variable
        </Tick>
        <Tick isSelected={mapping.decimalComma} onChange={(decimalComma) => map({ decimalComma })}>
          Fractions are written with a comma
        </Tick>
      </fieldset>
      <fieldset>
        <legend>Station</legend>
        {looked.stations.length > 1 ? (
          <div className="wind-grid">
            <Select
              label="Rows of this station"
              value={mapping.station?.value ?? null}
              options={looked.stations.map((value) => ({ value, label: value }))}
              hint={`Column “${mapping.station?.column}” holds ${looked.stations.length} stations.`}
              refusal={at('mapping.station')}
              onChange={(value) => mapping.station && map({ station: { ...mapping.station, value } })}
            />
          </div>
        ) : null}
        <div className="wind-grid">
          <Field
            label="Name of the station"
            value={draft.station}
            refusal={at('station')}
            onChange={(station) => onChange({ ...draft, station })}
          />
          <NumberField
            label="Distance from the site"
            unit="km"
            value={draft.distanceKm}
            refusal={at('distanceKm')}
            onChange={(distanceKm) => onChange({ ...draft, distanceKm })}
          />
          <NumberField
            label="A gust is averaged over"
            unit="seconds"
            value={draft.averagingSeconds}
            hint="3 at most stations; empty where nobody knows."
            refusal={at('averagingSeconds')}
            onChange={(averagingSeconds) => onChange({ ...draft, averagingSeconds })}
          />
        </div>
      </fieldset>
      <Threshold
        threshold={draft.threshold}
        refusal={at('threshold')}
        onChange={(threshold) => onChange({ ...draft, threshold })}
      />
    </div>
  )
}

const timeWords: Record<string, string> = {
  column: 'Day and hour',
  date: 'Day',
  clock: 'Clock',
  year: 'Year',
  month: 'Month',
  day: 'Day of the month',
  hour: 'Hour',
}
const emptyTime = (kind: TimeKind): WindMapping['time'] =>
  kind === 'one'
    ? { kind, column: '' }
    : kind === 'two'
      ? { kind, date: '', clock: '' }
      : { kind, year: '', month: '', day: '', hour: '' }

function Threshold({
  threshold,
  refusal,
  onChange,
}: {
  threshold: GustThreshold
  refusal: string | null
  onChange(threshold: GustThreshold): void
}) {
  return (
    <fieldset>
      <legend>Strong gusts</legend>
      <Words
        label="What counts as strong"
        value={threshold.kind}
        options={[
          { value: 'from', label: 'from a speed on' },
          { value: 'share', label: 'the strongest share' },
        ]}
        onChange={(kind) => onChange(kind === 'from' ? startingThreshold : { kind, share: 0.05 })}
      />
      <div className="wind-grid">
        {threshold.kind === 'from' ? (
          <NumberField
            label="From"
            unit="m/s"
            value={threshold.gustMps}
            refusal={refusal}
            hint={`${sayWind(threshold.gustMps)}: ${sayForce(threshold.gustMps)}.`}
            onChange={(gustMps) => onChange({ kind: 'from', gustMps: gustMps ?? 0 })}
          />
        ) : (
          <NumberField
            label="Share of all gusts"
            unit="%"
            value={threshold.share * 100}
            refusal={refusal}
            onChange={(percent) => onChange({ kind: 'share', share: (percent ?? 0) / 100 })}
          />
        )}
      </div>
    </fieldset>
  )
}

/** What is left to be said before a file can be read, in words; empty when nothing is. */
export function missingOf({ mapping, station, distanceKm }: WindDraft): string[] {
  const time = mapping.time ? Object.values(mapping.time).every((value) => value !== '') : false
  return [
    time ? null : 'the columns of day and hour',
    mapping.timeZone ? null : 'the time zone',
    mapping.gust ? null : 'the column of gusts',
    mapping.unit ? null : 'the unit of wind',
    station.trim() ? null : 'the name of the station',
    distanceKm === null ? 'its distance' : null,
  ].filter((word) => word !== null)
}
