import { type Refusal, stemHeightsM, type TreeMapping } from '@underbough/model'
import { Field, NumberField, refusalAt, Select, Tick } from '../look/index.ts'
import { CrsFields } from './CrsFields.tsx'
import type { Guess } from './types.ts'
import { speciesOrderNames } from './words.ts'

const choices = <T extends string>(names: Readonly<Record<T, string>>) =>
  (Object.entries(names) as [T, string][]).map(([value, label]) => ({ value, label }))
const stemUnits = choices({ cm: 'centimetres', mm: 'millimetres', m: 'metres', in: 'inches' })
const heightUnits = choices({ m: 'metres', ft: 'feet' })
const orders = choices(speciesOrderNames)

/** Units, coordinates and the order of names in a list of trees, each with the reason for its suggestion. */
export function TreeSettings({
  mapping,
  because,
  refusals,
  onChange,
}: {
  mapping: TreeMapping
  because: Partial<Record<string, Guess>>
  refusals: readonly Refusal[]
  onChange(mapping: TreeMapping): void
}) {
  const set = (change: Partial<TreeMapping>) => onChange({ ...mapping, ...change })
  const at = (path: string) => refusalAt(refusals, `mapping.${path}`)
  const why = (key: keyof TreeMapping) => because[key]?.because
  const girth = Object.values(mapping.columns).includes('circumference')
  return (
    <div className="settings-grid">
      <Select
        label={girth ? 'Unit of circumferences and diameters' : 'Unit of stem diameters'}
        value={mapping.diameterUnit}
        options={stemUnits}
        hint={why('diameterUnit')}
        refusal={at('diameterUnit')}
        onChange={(diameterUnit) => set({ diameterUnit })}
      />
      <NumberField
        label="Stems measured above ground at"
        unit="m"
        value={mapping.measuredAtM}
        hint={why('measuredAtM') ?? `By custom of the country: ${stemHeightsM.join(', ')} m.`}
        refusal={at('measuredAtM')}
        onChange={(measuredAtM) => set({ measuredAtM: measuredAtM ?? 0 })}
      />
      <Select
        label="Unit of heights and crowns"
        value={mapping.heightUnit}
        options={heightUnits}
        hint={why('heightUnit')}
        refusal={at('heightUnit')}
        onChange={(heightUnit) => set({ heightUnit })}
      />
      <CrsFields
        crs={mapping.crs}
        because={why('crs')}
        refusals={refusals}
        onChange={(crs) => set({ crs })}
      />
      <div className="field">
        <span className="field-label">Numbers</span>
        <Tick isSelected={mapping.decimalComma} onChange={(decimalComma) => set({ decimalComma })}>
          A comma is the decimal sign: 12,5
        </Tick>
        <span className="field-hint">{why('decimalComma')}</span>
      </div>
      <Select
        label="Order of names in the species column"
        value={mapping.speciesOrder}
        options={orders}
        hint={why('speciesOrder')}
        refusal={at('speciesOrder')}
        onChange={(speciesOrder) => set({ speciesOrder })}
      />
      {mapping.speciesOrder === 'botanical' ? null : (
        <Field
          label="Sign between the two names"
          value={mapping.speciesSeparator}
          refusal={at('speciesSeparator')}
          onChange={(speciesSeparator) => set({ speciesSeparator })}
        />
      )}
    </div>
  )
}
