import { useEffect, useState } from 'react'
import { Button, count, Empty, ErrorNote, Loading, Plate, Words } from '../look/index.ts'
import { useImportRows } from './hooks.ts'
import type { ImportRow, ImportStatus, RowQuestion } from './types.ts'
import { changeNames, recordFieldName, sayValue, sentenceOf, verdictNames } from './words.ts'

type VerdictChoice = 'all' | NonNullable<RowQuestion['verdict']>
type ChangeChoice = 'all' | NonNullable<RowQuestion['change']>

/** The rows of the file with their verdict, by verdict, by change or by reason. */
export function RowsPlate({
  status,
  question,
  onAsk,
}: {
  status: ImportStatus
  question: RowQuestion
  onAsk(question: RowQuestion): void
}) {
  const { counts } = status
  const [page, setPage] = useState(1)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another question begins at its first page
  useEffect(() => setPage(1), [question])
  const rows = useImportRows(status.importId, question, page)
  const figure = (n: number) => n.toLocaleString('en-GB')
  const pages = rows.data ? Math.max(1, Math.ceil(rows.data.total / rows.data.pageRows)) : 1
  return (
    <Plate title="Row by row" aside={rows.data ? count(rows.data.total, 'row') : null}>
      <div className="row wrap rows-narrow">
        <Words<VerdictChoice>
          label="By verdict"
          value={question.verdict ?? 'all'}
          options={[
            { value: 'all', label: 'Every verdict' },
            { value: 'taken', label: `taken ${figure(counts.taken)}` },
            { value: 'taken-with-notes', label: `with notes ${figure(counts.noted)}` },
            { value: 'refused', label: `refused ${figure(counts.refused)}` },
          ]}
          onChange={(verdict) => onAsk({ ...question, verdict: verdict === 'all' ? undefined : verdict })}
        />
        <Words<ChangeChoice>
          label="By change"
          value={question.change ?? 'all'}
          options={[
            { value: 'all', label: 'Every change' },
            { value: 'new', label: `new ${figure(counts.new)}` },
            { value: 'changed', label: `changed ${figure(counts.changed)}` },
            { value: 'same', label: `same ${figure(counts.same)}` },
            { value: 'gone', label: `gone ${figure(counts.gone)}` },
          ]}
          onChange={(change) => onAsk({ ...question, change: change === 'all' ? undefined : change })}
        />
        {question.code ? (
          <Button
            kind="quiet"
            className="small-press"
            onPress={() => onAsk({ ...question, code: undefined })}
          >
            Every reason
          </Button>
        ) : null}
      </div>
      {rows.error ? (
        <ErrorNote
          title="The rows cannot be fetched."
          error={rows.error}
          action={<Button onPress={() => rows.refetch()}>Try again</Button>}
        />
      ) : !rows.data ? (
        <Loading>Fetching the rows.</Loading>
      ) : rows.data.rows.length === 0 ? (
        <Empty title="No row is like that.">
          Of {count(counts.rows, 'row')}, none has this verdict and change together.
        </Empty>
      ) : (
        <RowsTable rows={rows.data.rows} />
      )}
      {pages > 1 ? (
        <nav className="row c pages" aria-label="Pages of rows">
          <Button isDisabled={page <= 1} onPress={() => setPage(page - 1)}>
            Earlier rows
          </Button>
          <span className="s q">
            Page {figure(page)} of {figure(pages)}
          </span>
          <Button isDisabled={page >= pages} onPress={() => setPage(page + 1)}>
            Later rows
          </Button>
        </nav>
      ) : null}
    </Plate>
  )
}

function RowsTable({ rows }: { rows: readonly ImportRow[] }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is moved sideways with the keyboard
    <div className="table-roll" tabIndex={0} role="region" aria-label="Rows of the file">
      <table className="rows-table">
        <thead>
          <tr>
            <th className="n">Line</th>
            <th>Identifier</th>
            <th>Read as</th>
            <th>Verdict</th>
            <th>What was seen, what would change</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.line ?? `gone-${row.sourceKey}`}>
              <td className="n">{row.line?.toLocaleString('en-GB') ?? 'none'}</td>
              <td className="key-cell">{row.sourceKey ?? 'none'}</td>
              <td>{readAs(row)}</td>
              <td>
                <span className={row.verdict === 'refused' ? 'b' : undefined}>
                  {row.line === null ? 'not in the file' : verdictNames[row.verdict]}
                </span>
                {row.change ? (
                  <>
                    <br />
                    <span className="s q">{changeNames[row.change]}</span>
                  </>
                ) : null}
              </td>
              <td>
                <Seen row={row} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** What the row became, or for a refused one the first cells as they came. */
function readAs(row: ImportRow): string {
  const record = row.record as Record<string, unknown> | null
  if (record)
    return [record.tag, record.commonName ?? record.species ?? record.name, record.kind]
      .filter((part) => typeof part === 'string' && part)
      .join(', ')
  if (row.line === null) return 'stays here with all its records'
  return Object.values(row.raw).filter(Boolean).slice(0, 4).join(' · ').slice(0, 90)
}

function Seen({ row }: { row: ImportRow }) {
  if (row.notes.length + row.differences.length === 0) return null
  return (
    <ul className="seen">
      {row.differences.map(({ field, from, to }) => (
        <li key={field}>
          {recordFieldName(field)}: <span className="q">{sayValue(field, from)}</span>{' '}
          <span aria-hidden="true">→</span>
          <span className="out-of-sight">becomes</span> <b>{sayValue(field, to)}</b>
        </li>
      ))}
      {row.notes.map((note) => (
        <li key={`${note.code}-${note.path}-${note.message}`}>{note.message || sentenceOf(note.code)}</li>
      ))}
    </ul>
  )
}
