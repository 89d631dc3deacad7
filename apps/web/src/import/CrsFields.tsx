import type { Refusal } from '@underbough/model'
import { NumberField, refusalAt, Select } from '../look/index.ts'
import { crsOf, epsgNumber } from './mapping.ts'

const systems = [
  { value: 'wgs84', label: 'WGS84, longitude and latitude' },
  { value: 'epsg', label: 'A grid, by its EPSG number' },
] as const

/** WGS84, or a grid by its number. */
export function CrsFields({
  crs,
  because,
  refusals,
  onChange,
}: {
  crs: string
  because?: string
  refusals: readonly Refusal[]
  onChange(crs: string): void
}) {
  const grid = crs.toUpperCase().startsWith('EPSG')
  const refusal = refusalAt(refusals, 'mapping.crs') ?? refusalAt(refusals, 'crs')
  return (
    <>
      <Select
        label="Coordinate system"
        value={grid ? 'epsg' : 'wgs84'}
        options={systems}
        hint={because}
        refusal={grid ? null : refusal}
        onChange={(value) => onChange(value === 'epsg' ? crsOf(null) : 'WGS84')}
      />
      {grid ? (
        <NumberField
          label="Number of the grid"
          unit="EPSG"
          value={epsgNumber(crs)}
          refusal={refusal}
          hint="For example 25832. The publisher of the list names it."
          onChange={(number) => onChange(crsOf(number))}
        />
      ) : null}
    </>
  )
}
