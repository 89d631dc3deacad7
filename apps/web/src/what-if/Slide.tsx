import { useId, useState } from 'react'
import { NumberField } from '../look/index.ts'

/** One figure by a slide and by typing; both say the same. What is typed beyond the limits is refused in words and changes nothing. */
export function Slide({
  label,
  unit,
  value,
  least,
  most,
  step,
  was,
  onChange,
}: {
  label: string
  unit: string
  value: number
  least: number
  most: number
  step: number
  /** As it stands, marked under the slide. */
  was?: number
  onChange(value: number): void
}) {
  const marks = useId()
  const round = (n: number) => Math.round(n * 10) / 10
  // What was typed and cannot be taken stays to be read until it is put right.
  const [refused, setRefused] = useState<{ typed: number | null } | null>(null)
  const held = Math.min(most, Math.max(least, value))
  const take = (typed: number | null) => {
    const fits = typed !== null && typed >= round(least) && typed <= round(most)
    setRefused(fits ? null : { typed })
    if (fits) onChange(Math.min(most, Math.max(least, typed)))
  }
  return (
    <div className="slide">
      <NumberField
        label={label}
        unit={unit}
        value={refused ? refused.typed : round(value)}
        onChange={take}
        refusal={refused ? `${round(least)} to ${round(most)} ${unit}` : null}
      />
      <input
        type="range"
        aria-label={`${label}, slide`}
        aria-valuetext={`${round(held)} ${unit}`}
        min={least}
        max={most}
        step={step}
        value={held}
        list={was === undefined ? undefined : marks}
        onChange={(event) => {
          setRefused(null)
          onChange(Number(event.target.value))
        }}
      />
      {was === undefined ? null : (
        <datalist id={marks}>
          <option value={was} />
        </datalist>
      )}
    </div>
  )
}
