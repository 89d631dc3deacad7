import { Button, NumberField } from '../look/index.ts'
import { BearingField } from './BearingField.tsx'
import { replaced, without } from './part.ts'
import { placeOfRow } from './reading.ts'
import type { BearingRow } from './values.ts'

/** Figures by bearing. A bearing without a figure was not measured and is left out. */
export function BearingRows(props: {
  rows: readonly BearingRow[]
  what: string
  most: number
  onChange(rows: BearingRow[]): void
  /** Refusal at a field of the record's list. */
  at(place: string): string | null
  figure: 'wallCm' | 'radiusCm'
}) {
  const { rows, what, most, onChange, at, figure } = props
  return (
    <>
      <ol className="bearing-rows">
        {rows.map((row, i) => {
          const refusal = (name: string) => (row.cm === null ? null : at(`${placeOfRow(rows, i)}.${name}`))
          return (
            <li key={i} className="arc">
              <BearingField
                label="To"
                value={row.bearingDeg}
                onChange={(bearingDeg) => onChange(replaced(rows, i, { bearingDeg }))}
                refusal={refusal('bearingDeg')}
              />
              <NumberField
                label={what}
                unit="cm"
                value={row.cm}
                onChange={(cm) => onChange(replaced(rows, i, { cm }))}
                refusal={refusal(figure)}
              />
              <Button
                kind="quiet"
                aria-label={`Take out row ${i + 1}`}
                onPress={() => onChange(without(rows, i))}
              >
                Take out
              </Button>
            </li>
          )
        })}
      </ol>
      {rows.length < most ? (
        <Button onPress={() => onChange([...rows, { bearingDeg: null, cm: null }])}>Another bearing</Button>
      ) : null}
    </>
  )
}
