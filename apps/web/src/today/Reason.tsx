import { ToggleButton } from 'react-aria-components/ToggleButton'
import { Field } from '../look/index.ts'

/** A reason in one tap or in one's own words; the words stand in the line and can be changed. */
export function Reason({
  label,
  ownLabel = 'In your own words',
  usual,
  value,
  onChange,
}: {
  label: string
  ownLabel?: string
  usual: readonly string[]
  value: string
  onChange(value: string): void
}) {
  return (
    <div className="reason">
      <fieldset className="chips">
        <legend className="field-label">{label}</legend>
        {usual.map((words) => (
          <ToggleButton
            key={words}
            className="chip"
            isSelected={value === words}
            onChange={(on) => onChange(on ? words : '')}
          >
            {words}
          </ToggleButton>
        ))}
      </fieldset>
      <Field label={ownLabel} value={value} onChange={onChange} isRequired />
    </div>
  )
}
