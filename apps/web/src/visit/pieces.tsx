import type { ReactNode } from 'react'
import { ToggleButton } from 'react-aria-components/ToggleButton'

/** A row of words, one of them chosen: 48 px for a thumb. */
export function WordRow<T extends string>(props: {
  label: string
  words: readonly T[]
  value: T | null
  onChange(word: T): void
  say?: (word: T) => string
  /** Marks what was proposed. */
  proposed?: T | null
}) {
  const { label, words, value, onChange, say = (word: T) => word as string, proposed = null } = props
  return (
    <fieldset className="word-row">
      <legend className="field-label">
        {label}
        {proposed === null ? null : <span className="q">, proposed {say(proposed)}</span>}
      </legend>
      <div className="word-row-words">
        {words.map((word) => (
          <ToggleButton
            key={word}
            className="word-press"
            isSelected={word === value}
            onChange={() => onChange(word)}
            aria-label={`${label}: ${say(word)}`}
          >
            {say(word)}
          </ToggleButton>
        ))}
      </div>
    </fieldset>
  )
}

/** One of the three answers of a step: one tap. */
export function AnswerPress(props: {
  chosen: boolean
  onPress(): void
  picture: ReactNode
  children: string
}) {
  return (
    <ToggleButton className="answer" isSelected={props.chosen} onChange={props.onPress}>
      <span className="answer-picture">{props.picture}</span>
      <span>{props.children}</span>
    </ToggleButton>
  )
}

/** A word from a short list: a tap instead of typing. */
export function Chip({
  children,
  onPress,
  chosen = false,
}: {
  children: string
  onPress(): void
  chosen?: boolean
}) {
  return (
    <ToggleButton className="chip" isSelected={chosen} onChange={onPress}>
      {children}
    </ToggleButton>
  )
}
