import { useRef, useState } from 'react'
import { Button, Field } from '../look/index.ts'
import { sayBytes } from '../photos/index.ts'
import { textOf } from './trace.ts'

/** Longer texts are not written into a field: a browser would stumble over them. */
const pasteShown = 4000

/** Where the text of a trace comes from: a file, or pasted. It is never edited here. */
export function TraceText(props: {
  own: { raw: string; fileName: string }
  onText(raw: string, fileName: string): void
  refusal: string | null
}) {
  const { own, onText, refusal } = props
  const input = useRef<HTMLInputElement>(null)
  const [pasting, setPasting] = useState(false)
  const read = async (file: File | undefined) => {
    if (file) onText(textOf(await file.arrayBuffer()), file.name)
  }
  return (
    <fieldset className="reading-part">
      <legend>The trace</legend>
      <input
        ref={input}
        type="file"
        accept=".csv,.txt,.tsv,.dat,.asc,text/*"
        className="out-of-sight"
        tabIndex={-1}
        aria-label="File with the trace"
        onChange={(event) => {
          void read(event.target.files?.[0])
          event.target.value = ''
        }}
      />
      <div className="row wrap c">
        <Button onPress={() => input.current?.click()}>
          {own.raw ? 'Choose another file' : 'Choose the file'}
        </Button>
        <Button kind="quiet" onPress={() => setPasting(!pasting)}>
          {pasting ? 'Put the field away' : 'Paste the text'}
        </Button>
      </div>
      {own.raw ? (
        <p className="s q">
          {own.fileName || 'Pasted text'}, {sayBytes(own.raw.length)}. The text is kept as it came and never
          edited.
        </p>
      ) : null}
      {pasting ? (
        own.raw.length > pasteShown ? (
          <p className="s q">The text is too long to show here. Choose another file to replace it.</p>
        ) : (
          <Field label="Text of the trace" multiline value={own.raw} onChange={(raw) => onText(raw, '')} />
        )
      ) : null}
      {refusal ? (
        <p className="field-refusal" data-refused tabIndex={-1}>
          {own.raw ? refusal : 'Choose the file with the trace, or paste its text.'}
        </p>
      ) : null}
    </fieldset>
  )
}
