import { useState } from 'react'
import { Field } from '../look/index.ts'

/** A number that takes hold when the field is left or Enter is pressed: half a number must not move anything. */
export function CommitField(props: {
  label: string
  unit: string
  value: number | null
  onCommit(value: number): void
  refusal?: string | null
  hint?: string
}) {
  const { label, unit, value, onCommit, ...rest } = props
  const [typed, setTyped] = useState<string | null>(null)
  const commit = () => {
    if (typed === null) return
    const number = Number(typed.trim().replace(',', '.'))
    if (typed.trim() !== '' && Number.isFinite(number) && number !== value) onCommit(number)
    setTyped(null)
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: listens to the field inside it
    <div onBlur={commit} onKeyDown={(event) => event.key === 'Enter' && commit()}>
      <Field
        {...rest}
        label={`${label}, ${unit}`}
        inputMode="decimal"
        value={typed ?? (value === null ? '' : String(value))}
        onChange={setTyped}
      />
    </div>
  )
}
