import { NumberField } from '../look/index.ts'
import { WordRow } from '../visit/pieces.tsx'
import { BearingRows } from './BearingRows.tsx'
import { OutlineDrawing } from './OutlineDrawing.tsx'
import { type PartProps, partOf } from './part.ts'

/** The wall by bearing, as it showed when the stem was cut. */
export function CutPart({ handle }: PartProps) {
  const { own, set, at } = partOf(handle, 'cut')
  const refusal = at('reading.walls')
  return (
    <fieldset className="reading-part">
      <legend>The cut surface</legend>
      <p className="s q">Firm wall without bark, towards the middle. Leave empty what was not measured.</p>
      <OutlineDrawing rows={own.walls} says="Walls as entered" inwards />
      <BearingRows
        rows={own.walls}
        what="Wall"
        most={72}
        onChange={(walls) => set({ walls })}
        at={(place) => at(`reading.walls.${place}`)}
        figure="wallCm"
      />
      <ListRefusal refusal={own.walls.every(({ cm }) => cm === null) ? refusal : null} />
    </fieldset>
  )
}

/** The stem's outside at one height. */
export function OutlinePart({ handle }: PartProps) {
  const { own, set, at } = partOf(handle, 'outline')
  const given = own.radii.filter(({ cm }) => cm !== null).length
  return (
    <fieldset className="reading-part">
      <legend>The outline</legend>
      <WordRow
        label="Measured by"
        words={['girth', 'radii'] as const}
        value={own.by}
        onChange={(by) => set({ by })}
        say={(word) => (word === 'girth' ? 'Tape round the stem' : 'Radii by bearing')}
      />
      {own.by === 'girth' ? (
        <>
          <NumberField
            label="Girth, bark included"
            unit="cm"
            value={own.girthCm}
            onChange={(girthCm) => set({ girthCm })}
            refusal={at('reading.girthCm')}
            isRequired
          />
          <p className="s q">A girth makes the stem round; a stem that is not needs radii.</p>
        </>
      ) : (
        <>
          <p className="s q">From one middle to the outside of the bark; 4 to 72 bearings.</p>
          <OutlineDrawing rows={own.radii} says={`Outline from ${given} radii`} />
          <BearingRows
            rows={own.radii}
            what="Radius"
            most={72}
            onChange={(radii) => set({ radii })}
            at={(place) => at(`reading.radii.${place}`)}
            figure="radiusCm"
          />
          <ListRefusal refusal={given < 4 ? at('reading.radii') : null} />
        </>
      )}
      <NumberField
        label="Bark"
        unit="cm thick"
        value={own.barkCm}
        onChange={(barkCm) => set({ barkCm })}
        refusal={at('reading.barkCm')}
      />
    </fieldset>
  )
}

function ListRefusal({ refusal }: { refusal: string | null }) {
  return refusal ? (
    <p className="field-refusal" data-refused tabIndex={-1}>
      {refusal}
    </p>
  ) : null
}
