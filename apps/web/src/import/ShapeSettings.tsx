import {
  type GroundFeatureKind,
  groundFeatureKinds,
  type Refusal,
  type ZoneMapping,
  zoneKinds,
} from '@underbough/model'
import { ZoneSwatch, zoneNames } from '@underbough/pictures'
import { NumberField, refusalAt, Select } from '../look/index.ts'
import { CrsFields } from './CrsFields.tsx'
import { isGroundMapping } from './mapping.ts'
import type { Begun, GroundMapping } from './types.ts'

const none = ' none'
const groundKinds = groundFeatureKinds.map((value) => ({ value, label: value }))
const targetKinds = zoneKinds.map((value) => ({
  value,
  label: zoneNames[value],
  picture: <ZoneSwatch kind={value} widthPx={24} heightPx={14} hidden />,
}))

/** How a file of zones or of the ground is read. */
export function ShapeSettings({
  mapping,
  table,
  refusals,
  onChange,
}: {
  mapping: ZoneMapping | GroundMapping
  table: Begun['table']
  refusals: readonly Refusal[]
  onChange(mapping: ZoneMapping | GroundMapping): void
}) {
  const set = (change: object) => onChange({ ...mapping, ...change } as ZoneMapping | GroundMapping)
  const at = (path: string) => refusalAt(refusals, `mapping.${path}`)
  const columns = [
    { value: none, label: 'no column' },
    ...table.columns.map(({ name, samples }) => ({ value: name, label: name, hint: samples[0] })),
  ]
  const column = (label: string, key: 'nameColumn' | 'kindColumn', hint: string) => (
    <Select
      label={label}
      value={mapping[key] ?? none}
      options={columns}
      hint={hint}
      refusal={at(key)}
      onChange={(name) => set({ [key]: name === none ? null : name })}
    />
  )
  return (
    <div className="settings-grid">
      {column(
        'Column that holds the name',
        'nameColumn',
        'Without one, each is named by its kind and number.',
      )}
      {column(
        'Column that holds the kind',
        'kindColumn',
        'Words of the trade and tags of open map data are known.',
      )}
      {isGroundMapping(mapping) ? (
        <Select<GroundFeatureKind>
          label="Kind where the file does not say"
          value={mapping.kind}
          options={groundKinds}
          refusal={at('kind')}
          onChange={(kind) => set({ kind })}
        />
      ) : (
        <>
          <Select
            label="Kind where the file does not say"
            value={(mapping as ZoneMapping).kind}
            options={targetKinds}
            refusal={at('kind')}
            onChange={(kind) => set({ kind })}
          />
          <NumberField
            label="Width given to ways"
            unit="m"
            value={(mapping as ZoneMapping).lineWidthM}
            refusal={at('lineWidthM')}
            hint="A way without a width of its own becomes an area this wide."
            onChange={(lineWidthM) => set({ lineWidthM: lineWidthM ?? 0 })}
          />
        </>
      )}
      <CrsFields crs={mapping.crs} refusals={refusals} onChange={(crs) => set({ crs })} />
    </div>
  )
}
