import { type VisitLevel, visitLevels } from '@underbough/model'
import { Words } from '../look/index.ts'
import { levelNames } from './facts.ts'

/** How deep the look is to be, as deep as the crew may go. */
export function Level({
  most,
  value,
  onChange,
}: {
  most: VisitLevel
  value: VisitLevel
  onChange(level: VisitLevel): void
}) {
  return (
    <Words
      label="Level of the look"
      value={String(value)}
      options={visitLevels
        .filter((level) => level <= most)
        .map((level) => ({ value: String(level), label: levelNames[level] }))}
      onChange={(level) => onChange(Number(level) as VisitLevel)}
    />
  )
}
