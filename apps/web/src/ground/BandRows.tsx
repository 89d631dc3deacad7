import { Button, NumberField, Select } from '../look/index.ts'
import type { Band } from './bands.ts'

const dayNames: Record<Band['days'], string> = {
  working: 'Mon to Fri',
  weekend: 'Sat and Sun',
  all: 'Every day',
}
const hour = (n: number | null, most: number) => Math.max(0, Math.min(most, Math.round(n ?? 0)))

/** Hours of the week said in bands: which days, from, to, how many. */
export function BandRows({
  bands,
  what = 'People',
  onChange,
}: {
  bands: readonly Band[]
  /** What is counted in each hour. */
  what?: string
  onChange(bands: Band[]): void
}) {
  const put = (at: number, change: Partial<Band>) =>
    onChange(bands.map((band, i) => (i === at ? { ...band, ...change } : band)))
  return (
    <>
      {bands.map((band, i) => (
        <div key={i} className="band-row">
          <Select
            label="Days"
            value={band.days}
            options={(Object.keys(dayNames) as Band['days'][]).map((value) => ({
              value,
              label: dayNames[value],
            }))}
            onChange={(days: Band['days']) => put(i, { days })}
          />
          <NumberField
            label="From"
            unit="hour"
            value={band.fromHour}
            onChange={(n) => put(i, { fromHour: hour(n, 23) })}
          />
          <NumberField
            label="To"
            unit="hour"
            value={band.toHour}
            onChange={(n) => put(i, { toHour: hour(n, 24) })}
          />
          <NumberField
            label={what}
            unit="mean"
            value={Math.round(band.value * 100) / 100}
            onChange={(n) => put(i, { value: Math.max(0, n ?? 0) })}
          />
          <Button
            kind="quiet"
            aria-label={`Take away ${dayNames[band.days]} from ${band.fromHour}`}
            onPress={() => onChange(bands.filter((_, j) => j !== i))}
          >
            Take away
          </Button>
        </div>
      ))}
      <Button onPress={() => onChange([...bands, { days: 'all', fromHour: 8, toHour: 18, value: 1 }])}>
        Add hours
      </Button>
    </>
  )
}
