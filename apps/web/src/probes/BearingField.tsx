import { NumberField } from '../look/index.ts'
import { Compass } from '../visit/Compass.tsx'

const turned = (deg: number | null) => (deg === null ? null : ((deg % 360) + 360) % 360)
interface Props {
  label: string
  value: number | null
  onChange(bearingDeg: number | null): void
  refusal?: string | null
  hint?: string
}

/** Degrees clockwise from north; 370 is taken for 10. */
export function BearingField({ label, value, onChange, refusal, hint }: Props) {
  return (
    <NumberField
      label={label}
      unit="degrees"
      value={value}
      onChange={(deg) => onChange(turned(deg))}
      refusal={refusal}
      hint={hint}
    />
  )
}

/** The same, by a tap on the round of the stem seen from above. */
export function BearingPicker(props: Props) {
  return (
    <div className="bearing">
      <Compass bearingDeg={props.value} crown={null} onBearing={props.onChange} />
      <BearingField {...props} />
    </div>
  )
}
