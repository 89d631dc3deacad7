import { type ShelterClass, shelterClasses, type Zone, type ZoneInput } from '@underbough/model'
import { useZones } from '../api/index.ts'
import { NumberField, Select } from '../look/index.ts'

const classNames: Record<ShelterClass, string> = {
  masonry: 'masonry or concrete',
  frame: 'a timber or steel frame',
  light: 'a light roof',
}
/** Beyond this a list is no help; the zone chosen before stays in it. */
const MOST_LARGER = 120

/** What else bears on the figures: groups, what it may stop, what may be lost, and the larger zone it belongs to. */
export function ZoneMore({
  zone,
  input,
  set,
  refusalFor,
}: {
  zone: Zone | undefined
  input: ZoneInput
  set(change: Partial<ZoneInput>): void
  refusalFor(path: string): string | null
}) {
  const larger = useLarger(zone, input)
  return (
    <div className="zone-more">
      <NumberField
        label="They come in groups of"
        unit="people"
        value={input.groupSize ?? null}
        hint="Empty where nobody knows: the chance that somebody is there is then an upper figure."
        refusal={refusalFor('groupSize')}
        onChange={(groupSize) => set({ groupSize })}
      />
      <div className="two">
        <NumberField
          label="Height that may stop a stem"
          unit="m"
          value={input.shelterHeightM}
          hint="Of a building or wall."
          refusal={refusalFor('shelterHeightM')}
          onChange={(shelterHeightM) => set({ shelterHeightM })}
        />
        <Select<ShelterClass | 'none'>
          label="Made of"
          value={input.shelterClass ?? 'none'}
          options={[
            { value: 'none', label: 'not known' },
            ...shelterClasses.map((value) => ({ value, label: classNames[value] })),
          ]}
          hint="Both must be known before it counts."
          onChange={(value) => set({ shelterClass: value === 'none' ? null : value })}
        />
      </div>
      <NumberField
        label="Value that can be lost"
        unit="in your money"
        value={input.valueAtStake}
        hint="Empty: none is counted. Shown as the share of it within the outline, no estimate of damage."
        refusal={refusalFor('valueAtStake')}
        onChange={(valueAtStake) => set({ valueAtStake })}
      />
      {larger.length > 0 ? (
        <Select
          label="Its people are among those of"
          value={input.partOf ?? 'none'}
          options={[
            { value: 'none', label: 'no other zone' },
            ...larger.map(({ id, name }) => ({ value: id, label: name })),
          ]}
          hint="So that nobody is counted twice."
          refusal={refusalFor('partOf')}
          onChange={(value) => set({ partOf: value === 'none' ? null : value })}
        />
      ) : null}
    </div>
  )
}

/** Larger zones of the same site, by name. */
function useLarger(zone: Zone | undefined, { siteId, partOf }: ZoneInput) {
  const zones = useZones()
  return (zones.data ?? [])
    .filter(
      (other) =>
        other.id === partOf ||
        (other.id !== zone?.id && other.siteId === siteId && other.areaM2 > (zone?.areaM2 ?? 0)),
    )
    .slice(0, MOST_LARGER)
}
