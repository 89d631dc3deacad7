import { Field } from '../look/index.ts'
import { WordRow } from '../visit/pieces.tsx'
import { type PartProps, partOf } from './part.ts'

/** What a laboratory answered. */
export function LaboratoryPart({ handle }: PartProps) {
  const { own, set, at } = partOf(handle, 'laboratory')
  return (
    <fieldset className="reading-part">
      <legend>The laboratory</legend>
      <Field
        label="Laboratory"
        value={own.laboratory}
        onChange={(laboratory) => set({ laboratory })}
        refusal={at('reading.laboratory')}
        isRequired
      />
      <Field
        label="What it was asked"
        value={own.question}
        onChange={(question) => set({ question })}
        refusal={at('reading.question')}
      />
      <Field
        label="What it found, in its own words"
        multiline
        value={own.result}
        onChange={(result) => set({ result })}
        refusal={at('reading.result')}
        isRequired
      />
      <WordRow
        label="The wood is left"
        words={['brittle', 'fibrous'] as const}
        value={own.manner}
        onChange={(manner) => set({ manner: manner === own.manner ? null : manner })}
      />
      <Field
        label="Reported on"
        type="date"
        value={own.reportedOn}
        onChange={(reportedOn) => set({ reportedOn })}
        refusal={at('reading.reportedOn')}
      />
    </fieldset>
  )
}
