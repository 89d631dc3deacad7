import type { Refusal } from '@underbough/model'
import { traceLimits } from '@underbough/wood'
import { Notice } from '../look/index.ts'
import { faultRows } from './trace.ts'

/** What cannot be read in a trace, row by row, and what to do. The text stays. */
export function TraceFaults({ raw, refusals }: { raw: string; refusals: readonly Refusal[] }) {
  const faults = faultRows(raw, refusals)
  return (
    <Notice tone="refused" title="This trace cannot be read as it is. Nothing is lost: the text is kept.">
      <ul className="trace-faults">
        {faults.map((fault) => (
          <li key={`${fault.row}-${fault.what}`}>
            {fault.row === null ? null : (
              <>
                <b>Row {fault.row}</b> {fault.stands ? <code>{fault.stands}</code> : '(empty)'}{' '}
              </>
            )}
            {fault.what} {fault.todo}
          </li>
        ))}
      </ul>
      {faults.length >= traceLimits.faultsTold ? 'There may be more; these are the first. ' : ''}
      Correct the file and choose it again; what else stands on this form stays.
    </Notice>
  )
}
