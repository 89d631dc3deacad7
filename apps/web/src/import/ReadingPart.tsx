import { ProgressBar } from 'react-aria-components/ProgressBar'
import { Label } from 'react-aria-components/TextField'
import { refusalsOf } from '../api/index.ts'
import { Button, Plate, Refusals } from '../look/index.ts'
import { useCancelImport } from './hooks.ts'
import type { ImportStatus } from './types.ts'

/** While a file is read, or what was read is written: how far it is, and the way out. */
export function ReadingPart({ status }: { status: ImportStatus }) {
  const cancel = useCancelImport(status.importId)
  const reading = status.state === 'reading'
  const { done, total } = status.progress
  const share = total > 0 ? Math.min(1, done / total) : 0
  return (
    <Plate title={reading ? 'Reading the file' : 'Bringing it in'}>
      <ProgressBar className="progress" value={share * 100}>
        <Label className="field-label">
          {reading
            ? 'Each row is read, given its verdict and set beside what is stored.'
            : 'All of it is written, or nothing.'}
        </Label>
        <span className="progress-line">
          <span className="progress-done" style={{ width: `${share * 100}%` }} />
        </span>
        <span className="s q">{total > 0 ? `${Math.round(share * 100)} %` : 'Waiting its turn'}</span>
      </ProgressBar>
      <Refusals title="It was not cancelled." refusals={refusalsOf(cancel.error)} />
      <p>
        <Button isDisabled={cancel.isPending} onPress={() => cancel.mutate()}>
          Cancel
        </Button>
      </p>
    </Plate>
  )
}
