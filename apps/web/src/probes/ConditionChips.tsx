import { type WoodCondition, woodConditions } from '@underbough/model'
import { WoodSwatch } from '@underbough/pictures'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { conditionNames } from './words.ts'
import '../visit/visit.css'

interface ChipsProps<T extends string> {
  label: string
  value: T | null
  onChange(condition: T): void
}

/** The wood's condition by one tap; each word beside the pattern it has in the drawings. */
export function ConditionChips(props: ChipsProps<WoodCondition>) {
  return (
    <div className="conditions" role="group" aria-label={props.label}>
      {woodConditions.map((condition) => (
        <ConditionChip key={condition} fill={condition} name={conditionNames[condition]} {...props} />
      ))}
    </div>
  )
}

/** The same, and a stretch nobody could read. */
export function ReadChips(props: ChipsProps<WoodCondition | 'unread'>) {
  return (
    <div className="conditions" role="group" aria-label={props.label}>
      {woodConditions.map((condition) => (
        <ConditionChip key={condition} fill={condition} name={conditionNames[condition]} {...props} />
      ))}
      <ConditionChip fill="unread" name="not read" {...props} />
    </div>
  )
}

function ConditionChip<T extends string>({
  fill,
  name,
  label,
  value,
  onChange,
}: ChipsProps<T> & { fill: T & (WoodCondition | 'unread'); name: string }) {
  return (
    <ToggleButton
      className="chip condition"
      isSelected={fill === value}
      onChange={() => onChange(fill)}
      aria-label={`${label}: ${name}`}
    >
      <span aria-hidden="true">
        <WoodSwatch fill={fill} />
      </span>
      {name}
    </ToggleButton>
  )
}
