import type { ScenarioPart } from '@underbough/model'
import { compassWord } from '@underbough/pictures'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { Answers } from '../look/index.ts'

const parts: readonly { value: ScenarioPart; label: string }[] = [
  { value: 'whole-tree', label: 'The whole tree, at the roots' },
  { value: 'stem', label: 'The stem broke' },
  { value: 'limb', label: 'A limb' },
]
const points = ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'] as const

/** What came down and which way it lies, in eighths of the compass; a second press on a point takes it back. */
export function Fallen(props: {
  part: ScenarioPart | null
  lies: number | null
  onPart(part: ScenarioPart): void
  onLies(bearingDeg: number | null): void
}) {
  return (
    <>
      <Answers label="What came down" value={props.part} options={parts} onChange={props.onPart} />
      <fieldset className="chips points" aria-label="Which way it lies, from the stem">
        <legend className="field-label">
          Which way it lies, from the stem; leave it open if you cannot tell
        </legend>
        {points.map((point, i) => (
          <ToggleButton
            key={point}
            className="chip"
            aria-label={compassWord(i * 45)}
            isSelected={props.lies === i * 45}
            onChange={(on) => props.onLies(on ? i * 45 : null)}
          >
            {point}
          </ToggleButton>
        ))}
      </fieldset>
    </>
  )
}
