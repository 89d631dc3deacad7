import { addDays, type RiskWord, riskWords } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { useEffect, useState } from 'react'
import { Link, useSearchParams } from 'react-router'
import { type TreeRow, useMapView, useSites, useTrees } from '../api/index.ts'
import {
  Button,
  capital,
  count,
  Empty,
  ErrorNote,
  Field,
  Loading,
  Select,
  sayDate,
  sayLength,
  Tick,
} from '../look/index.ts'
import './tree.css'

const PAGE = 50

/** All trees as a list: found by words, narrowed by rating, site and lateness, fifty at a time. */
export default function TreesPage() {
  const [query, setQuery] = useSearchParams()
  const view = useMapView()
  const sites = useSites()
  const q = query.get('q') ?? ''
  const risk = (query.get('risk')?.split(',').filter(Boolean) ?? []) as RiskWord[]
  const siteId = query.get('site')
  const overdue = query.get('overdue') === '1'
  const page = Math.max(0, Number(query.get('page') ?? 0) || 0)
  const today = view.data?.today
  const trees = useTrees(
    {
      q,
      risk,
      siteId,
      limit: PAGE,
      offset: page * PAGE,
      ...(overdue && today ? { dueFrom: '1900-01-01', dueUntil: addDays(today, -1) } : {}),
    },
    !overdue || today !== undefined,
  )
  const change = (part: Record<string, string | null>) => {
    const next = new URLSearchParams(query)
    if (!('page' in part)) next.delete('page')
    for (const [name, value] of Object.entries(part)) value ? next.set(name, value) : next.delete(name)
    setQuery(next, { replace: true })
  }
  const narrowed = q !== '' || risk.length > 0 || siteId !== null || overdue
  const total = trees.data?.total ?? 0
  return (
    <div className="page trees-page">
      <div className="row wrap trees-head">
        <h1>Trees</h1>
        <p className="q" role="status">
          {trees.data ? `${count(total, 'tree')}${narrowed ? ' of this kind' : ' on record'}` : ''}
        </p>
      </div>
      <div className="trees-find">
        <FindField value={q} onFind={(words) => change({ q: words || null })} />
        <Select
          label="Site"
          value={siteId ?? 'all'}
          options={[
            { value: 'all', label: 'Every site' },
            ...(sites.data ?? []).map((site) => ({ value: site.id, label: site.name })),
          ]}
          onChange={(value) => change({ site: value === 'all' ? null : value })}
        />
        <fieldset className="trees-ticks">
          <legend className="field-label">Rated</legend>
          {riskWords.map((word) => (
            <Tick
              key={word}
              isSelected={risk.includes(word)}
              onChange={(on) =>
                change({ risk: (on ? [...risk, word] : risk.filter((r) => r !== word)).join(',') })
              }
            >
              {capital(word)}
            </Tick>
          ))}
        </fieldset>
        <Tick isSelected={overdue} onChange={(on) => change({ overdue: on ? '1' : null })}>
          Overdue only
        </Tick>
      </div>
      {trees.error ? (
        <ErrorNote
          title="The trees cannot be shown now."
          error={trees.error}
          action={<Button onPress={() => trees.refetch()}>Try again</Button>}
        />
      ) : !trees.data ? (
        <Loading>Fetching the trees.</Loading>
      ) : trees.data.trees.length === 0 ? (
        <Empty
          title={narrowed ? 'No tree is of this kind.' : 'No trees here yet.'}
          action={narrowed ? <Button onPress={() => setQuery({})}>Show all trees</Button> : undefined}
        >
          {narrowed
            ? 'Ask for less, or spell it another way.'
            : 'Trees you add or bring in stand on this list.'}
        </Empty>
      ) : (
        <>
          <TreeTable trees={trees.data.trees} />
          <nav className="row c trees-pages" aria-label="Pages of the list">
            <Button
              isDisabled={page === 0}
              onPress={() => change({ page: page > 1 ? String(page - 1) : null })}
            >
              Before
            </Button>
            <span className="q">
              {page * PAGE + 1} to {Math.min(total, (page + 1) * PAGE)} of {total.toLocaleString('en-GB')}
            </span>
            <Button
              isDisabled={(page + 1) * PAGE >= total}
              onPress={() => change({ page: String(page + 1) })}
            >
              After
            </Button>
          </nav>
        </>
      )}
    </div>
  )
}

/** Asks when the person pauses, so that a word is not asked letter by letter. */
function FindField({ value, onFind }: { value: string; onFind(words: string): void }) {
  const [words, setWords] = useState(value)
  useEffect(() => setWords(value), [value])
  useEffect(() => {
    if (words.trim() === value) return
    const timer = setTimeout(() => onFind(words.trim()), 250)
    return () => clearTimeout(timer)
  })
  return <Field label="Tag or species" type="search" value={words} onChange={setWords} />
}

function TreeTable({ trees }: { trees: readonly TreeRow[] }) {
  return (
    <table className="trees-table">
      <thead>
        <tr>
          <th className="mark-cell">
            <span className="out-of-sight">Mark</span>
          </th>
          <th>Tag</th>
          <th>Tree</th>
          <th>Rating</th>
          <th>Due</th>
          <th className="n">Height, m</th>
          <th className="n">Stem, cm</th>
        </tr>
      </thead>
      <tbody>
        {trees.map((tree) => (
          <tr key={tree.id}>
            <td className="mark-cell">
              <TreeMark
                risk={tree.risk}
                overdue={tree.overdueDays > 0}
                visited={tree.seen}
                status={tree.status}
                boxPx={28}
                hidden
              />
            </td>
            <td>
              <Link to={`/trees/${tree.id}`}>{tree.tag}</Link>
            </td>
            <td>
              <span className="b">{tree.commonName ?? tree.species}</span>{' '}
              {tree.commonName ? <span className="latin s">{tree.species}</span> : null}
            </td>
            <td>
              {tree.status === 'gone'
                ? 'Gone'
                : tree.risk
                  ? capital(tree.risk)
                  : tree.seen
                    ? 'Not closed'
                    : 'Never visited'}
            </td>
            <td>
              {tree.due ? (
                <>
                  {sayDate(tree.due.on)}
                  {tree.due.kind === 'work' ? ', work' : ''}
                  {tree.overdueDays > 0 ? <b> {sayLength(tree.overdueDays)} late</b> : null}
                </>
              ) : (
                <span className="q">nothing</span>
              )}
            </td>
            <td className="n">{tree.heightM?.toFixed(1) ?? ''}</td>
            <td className="n">{tree.stemDiameterCm === null ? '' : Math.round(tree.stemDiameterCm)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
