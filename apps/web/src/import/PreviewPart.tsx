import { useState } from 'react'
import { address, refusalsOf } from '../api/index.ts'
import { Button, count, LinkButton, Notice, Plate, Refusals } from '../look/index.ts'
import { useBringIn, useCancelImport } from './hooks.ts'
import { PointsPlate } from './PointsPlate.tsx'
import { RowsPlate } from './RowsPlate.tsx'
import type { ImportStatus, RowQuestion } from './types.ts'
import { kindNames, sentenceOf } from './words.ts'

/** What the list would change, row by row, before anything is written. */
export function PreviewPart({ status, onMapAgain }: { status: ImportStatus; onMapAgain?(): void }) {
  const { counts, kind } = status
  const [question, setQuestion] = useState<RowQuestion>({})
  const bringIn = useBringIn(status.importId)
  const cancel = useCancelImport(status.importId)
  const { one, many } = kindNames[kind]
  const changing = counts.new + counts.changed
  return (
    <>
      <div className="preview-top">
        <div>
          <p className="preview-says">
            <b>{count(counts.taken + counts.noted, 'row')} taken</b>
            {counts.noted > 0 ? `, ${figure(counts.noted)} of them with notes` : ''};{' '}
            <b>{counts.refused > 0 ? figure(counts.refused) : 'none'} refused</b>.
          </p>
          <p className="prose">{sayChanges(status)}</p>
          {status.notes.length > 0 ? (
            <Notice tone="mind" title="Seen while reading:">
              <ul>
                {status.notes.map((note) => (
                  <li key={`${note.code}-${note.path}-${note.message}`}>{note.message}</li>
                ))}
              </ul>
            </Notice>
          ) : null}
          <Refusals
            title={bringIn.error ? 'It was not brought in.' : 'It was not cancelled.'}
            refusals={refusalsOf(bringIn.error ?? cancel.error)}
            kept="Nothing was written."
          />
          <div className="row c wrap import-end">
            <Button
              kind="do"
              isDisabled={changing === 0 || bringIn.isPending}
              onPress={() => bringIn.mutate()}
            >
              {`Bring in ${count(changing, one, many)}`}
            </Button>
            {onMapAgain ? <Button onPress={onMapAgain}>Change the mapping</Button> : null}
            <Button isDisabled={cancel.isPending} onPress={() => cancel.mutate()}>
              Cancel
            </Button>
            <LinkButton to="/import" kind="quiet">
              Leave it for later
            </LinkButton>
          </div>
          <Codes status={status} question={question} onAsk={setQuestion} />
        </div>
        <PointsPlate status={status} />
      </div>
      <RowsPlate status={status} question={question} onAsk={setQuestion} />
    </>
  )
}

const figure = (n: number) => n.toLocaleString('en-GB')

function sayChanges({ counts, kind }: ImportStatus): string {
  const { one, many } = kindNames[kind]
  const parts = [
    `${count(counts.new, `new ${one}`, `new ${many}`)}`,
    `${figure(counts.changed)} changed`,
    `${figure(counts.same)} the same as stored`,
  ]
  const gone =
    counts.gone > 0
      ? ` ${count(counts.gone, `stored ${one} is`, `stored ${many} are`)} gone from this list; ${counts.gone === 1 ? 'it stays' : 'they stay'} here with all records, and a person decides.`
      : ''
  const nothing = counts.new + counts.changed === 0 ? ' There is nothing to bring in.' : ''
  return `${parts.join(', ')}.${gone}${nothing}`
}

/** How often each reason or note stands on a row, with its sentence; a press shows those rows. */
function Codes({
  status,
  question,
  onAsk,
}: {
  status: ImportStatus
  question: RowQuestion
  onAsk(question: RowQuestion): void
}) {
  const { byCode, counts, importId } = status
  return (
    <Plate
      title="Reasons and notes"
      aside={
        counts.refused > 0 ? (
          <a href={address(`/imports/${importId}/refused.csv`)} download="refused.csv">
            Download refused rows as CSV
          </a>
        ) : null
      }
    >
      {byCode.length === 0 ? (
        <p className="q">Every row was taken as it stands. Nothing was noted.</p>
      ) : (
        <table className="codes-table">
          <thead>
            <tr>
              <th className="n">Rows</th>
              <th>What was seen</th>
              <th>
                <span className="out-of-sight">Show</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {byCode.map(({ code, count: rows }) => (
              <tr key={code} className={question.code === code ? 'on' : undefined}>
                <td className="n b">{figure(rows)}</td>
                <td>{sentenceOf(code)}</td>
                <td className="n">
                  <Button
                    kind="quiet"
                    className="small-press"
                    aria-label={`Show rows: ${sentenceOf(code)}`}
                    onPress={() => onAsk(question.code === code ? {} : { code })}
                  >
                    {question.code === code ? 'Show all' : 'Show'}
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </Plate>
  )
}
