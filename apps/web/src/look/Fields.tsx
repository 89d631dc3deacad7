import type { Refusal } from '@underbough/model'
import { type ReactNode, useId, useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Checkbox } from 'react-aria-components/Checkbox'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Popover } from 'react-aria-components/Popover'
import { Radio, RadioGroup } from 'react-aria-components/RadioGroup'
import { Select as AriaSelect, SelectValue } from 'react-aria-components/Select'
import { FieldError, Input, Label, Text, TextArea, TextField } from 'react-aria-components/TextField'

interface Common {
  label: string
  /** One short sentence under the field. */
  hint?: ReactNode
  /** What was wrong with the value, said under the field. */
  refusal?: string | null
  isRequired?: boolean
  isDisabled?: boolean
}

export interface FieldProps extends Common {
  value: string
  onChange(value: string): void
  type?: 'text' | 'email' | 'password' | 'search' | 'date' | 'time' | 'tel'
  inputMode?: 'text' | 'numeric' | 'decimal' | 'email'
  autoComplete?: string
  multiline?: boolean
  autoFocus?: boolean
}
/** A line to write on, its label above. */
export function Field({ label, hint, refusal, multiline, value, onChange, ...rest }: FieldProps) {
  return (
    <TextField {...rest} value={value} onChange={onChange} isInvalid={Boolean(refusal)} className="field">
      <Label className="field-label">{label}</Label>
      {multiline ? <TextArea className="field-line" rows={3} /> : <Input className="field-line" />}
      <FieldWords hint={hint} refusal={refusal} />
    </TextField>
  )
}

function FieldWords({ hint, refusal }: { hint?: ReactNode; refusal?: string | null }) {
  return (
    <>
      {hint && !refusal ? (
        <Text slot="description" className="field-hint">
          {hint}
        </Text>
      ) : null}
      <FieldError className="field-refusal">{refusal}</FieldError>
    </>
  )
}

export interface NumberFieldProps extends Common {
  value: number | null
  onChange(value: number | null): void
  /** Said after the label: `cm`, `m`, `people`. */
  unit: string
}
/** A number with its unit. Empty is null, never zero. A comma is taken for a decimal point; anything unreadable is null. */
export function NumberField({ label, unit, value, onChange, ...rest }: NumberFieldProps) {
  // What was typed stays as it was typed while it still means the value: `2.` is on its way to `2.1`.
  const [typed, setTyped] = useState('')
  return (
    <Field
      {...rest}
      label={`${label}, ${unit}`}
      inputMode="decimal"
      value={numberOf(typed) === value ? typed : value === null ? '' : String(value)}
      onChange={(text) => {
        setTyped(text)
        onChange(numberOf(text))
      }}
    />
  )
}
function numberOf(text: string): number | null {
  const number = Number(text.trim().replace(',', '.'))
  return text.trim() === '' || !Number.isFinite(number) ? null : number
}

export interface Choice<T extends string> {
  value: T
  label: string
  hint?: string
  picture?: ReactNode
}
export interface SelectProps<T extends string> extends Common {
  value: T | null
  options: readonly Choice<T>[]
  onChange(value: T): void
  placeholder?: string
}
/** One of a list. */
export function Select<T extends string>({
  label,
  hint,
  refusal,
  value,
  options,
  onChange,
  placeholder,
  ...rest
}: SelectProps<T>) {
  return (
    <AriaSelect
      {...rest}
      className="field select"
      value={value}
      onChange={(key) => onChange(key as T)}
      isInvalid={Boolean(refusal)}
      placeholder={placeholder ?? 'Choose'}
    >
      <Label className="field-label">{label}</Label>
      <AriaButton className="field-line select-button">
        <SelectValue />
        <span aria-hidden="true" className="select-mark" />
      </AriaButton>
      <FieldWords hint={hint} refusal={refusal} />
      <Popover className="popover">
        <ListBox className="list">
          {options.map((o) => (
            <ListBoxItem key={o.value} id={o.value} textValue={o.label} className="list-item">
              {o.picture}
              <span>
                {o.label}
                {o.hint ? <span className="s q"> {o.hint}</span> : null}
              </span>
            </ListBoxItem>
          ))}
        </ListBox>
      </Popover>
    </AriaSelect>
  )
}

/** One tap, one answer: rows of 56 px, chosen one edged and tinted. For the phone. */
export function Answers<T extends string>(
  props: Common & { value: T | null; options: readonly Choice<T>[]; onChange(value: T): void },
) {
  const { label, hint, refusal, value, options, onChange, ...rest } = props
  return (
    <RadioGroup
      {...rest}
      className="answers"
      value={value}
      onChange={(v) => onChange(v as T)}
      isInvalid={Boolean(refusal)}
    >
      <Label className="field-label">{label}</Label>
      {options.map((o) => (
        <Radio key={o.value} value={o.value} className="answer">
          <span className="answer-picture">{o.picture}</span>
          <span>
            {o.label}
            {o.hint ? <span className="answer-hint">{o.hint}</span> : null}
          </span>
        </Radio>
      ))}
      <FieldWords hint={hint} refusal={refusal} />
    </RadioGroup>
  )
}

/** A yes or no with its words. */
export function Tick({
  children,
  isSelected,
  onChange,
  isDisabled,
}: {
  children: ReactNode
  isSelected: boolean
  onChange(on: boolean): void
  isDisabled?: boolean
}) {
  return (
    <Checkbox className="tick" isSelected={isSelected} onChange={onChange} isDisabled={isDisabled}>
      <span className="tick-box" aria-hidden="true" />
      <span>{children}</span>
    </Checkbox>
  )
}

/** Choices side by side as words, the chosen one under a firm rule. */
export function Words<T extends string>(props: {
  label: string
  value: T
  options: readonly Choice<T>[]
  onChange(value: T): void
}) {
  const { label, value, options, onChange } = props
  const id = useId()
  return (
    <RadioGroup
      className="words"
      aria-label={label}
      value={value}
      onChange={(v) => onChange(v as T)}
      orientation="horizontal"
    >
      {options.map((o) => (
        <Radio key={o.value} value={o.value} id={`${id}-${o.value}`} className="word">
          {o.label}
        </Radio>
      ))}
    </RadioGroup>
  )
}

/** The sentence that belongs to one field of a form: the first refusal whose path is it or lies under it. */
export function refusalAt(refusals: readonly Refusal[], path: string): string | null {
  return refusals.find((r) => r.path === path || r.path.startsWith(`${path}.`))?.message ?? null
}
