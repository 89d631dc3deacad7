import { today as civilToday, type FailureInput } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { useState } from 'react'
import { Link } from 'react-router'
import { useTrees } from '../api/index.ts'
import {
  Button,
  capital,
  count,
  Empty,
  ErrorNote,
  LinkButton,
  Loading,
  Plate,
  Standing,
  sayDate,
} from '../look/index.ts'
import { mayChange, usePerson } from '../shell/index.ts'
import { WalkOverPick } from '../walk-over/WalkOverPick.tsx'
import { FailureForm } from './FailureForm.tsx'
import { partWords, saySum } from './failure.ts'
import { useFailures, useLatestVisits, type VisitHead } from './hooks.ts'
import './records.css'

const VISITS = 40
const FAILURES = 30

/** What was looked at lately, and what broke or nearly did. */
export default function RecordsPage() {
  const me = usePerson()
  const today = civilToday(me.organisation.timeZone)
  const [writing, setWriting] = useState<'failure' | 'walk-over' | null>(null)
  const close = () => setWriting(null)
  return (
    <div className="page records-page">
      <div className="row c wrap">
        <h1>Records</h1>
        {me.role === 'client' ? null : (
          <div className="row c wrap sp records-presses">
            <Button kind="do" onPress={() => setWriting('failure')}>
              Record a failure or near miss
            </Button>
            {me.role === 'manager' ? null : (
              <Button onPress={() => setWriting('walk-over')}>Enter a walk-over</Button>
            )}
            {mayChange(me.role) ? (
              <LinkButton to="/import" kind="quiet">
                Earlier imports
              </LinkButton>
            ) : null}
          </div>
        )}
      </div>
      <div className="records">
        <Plate title="Latest closed visits">
          <Visits />
        </Plate>
        <Plate title="Failures and near misses">
          <Failures onRecord={me.role === 'client' ? undefined : () => setWriting('failure')} />
        </Plate>
      </div>
      <Standing />
      {writing === 'failure' ? <FailureForm today={today} onClose={close} /> : null}
      {writing === 'walk-over' ? <WalkOverPick onClose={close} /> : null}
    </div>
  )
}

function Visits() {
  const visits = useLatestVisits(VISITS)
  if (visits.error)
    return (
      <ErrorNote
        title="The visits cannot be fetched."
        error={visits.error}
        action={<Button onPress={() => visits.refetch()}>Try again</Button>}
      />
    )
  if (!visits.data) return <Loading>Fetching the visits.</Loading>
  if (visits.data.length === 0)
    return <Empty title="No visit is closed yet.">Closed visits stand here, the latest first.</Empty>
  return (
    <table className="visits-table">
      <thead>
        <tr>
          <th colSpan={2}>Tree</th>
          <th>Closed</th>
          <th>By</th>
          <th>What was found</th>
        </tr>
      </thead>
      <tbody>
        {visits.data.map((visit) => (
          <VisitLine key={visit.id} visit={visit} />
        ))}
      </tbody>
    </table>
  )
}

function VisitLine({ visit }: { visit: VisitHead }) {
  const { tree } = visit
  return (
    <tr>
      <td className="mark-cell">
        <TreeMark risk={visit.risk} visited status={tree.status} boxPx={30} hidden />
      </td>
      <td>
        <Link to={`/trees/${tree.id}`}>
          {tree.tag} {tree.commonName ?? tree.species}
        </Link>
        <br />
        <span className="s q">
          {visit.risk ? `rated ${visit.risk}` : 'not rated'}, level {visit.level}
        </span>
      </td>
      <td className="day-cell">{sayDate((visit.closedAt ?? visit.startedAt).slice(0, 10))}</td>
      <td className="by-cell">{visit.personName}</td>
      <td>
        {visit.findings === 0 ? 'Seen, nothing found.' : capital(count(visit.findings, 'finding'))}
        {visit.couldNotSee ? <span className="s q"> Not seen: {visit.couldNotSee}</span> : null}
      </td>
    </tr>
  )
}

function Failures({ onRecord }: { onRecord?(): void }) {
  const failures = useFailures()
  const [all, setAll] = useState(false)
  const shown = (all ? failures.data : failures.data?.slice(0, FAILURES)) ?? []
  const ids = [...new Set(shown.flatMap((f) => (f.treeId ? [f.treeId] : [])))].slice(0, 500)
  const trees = useTrees({ ids, limit: Math.max(1, ids.length) }, ids.length > 0)
  const nameOf = (id: string) => {
    const tree = trees.data?.trees.find((t) => t.id === id)
    return tree ? `${tree.tag} ${tree.commonName ?? tree.species}` : 'a tree'
  }
  if (failures.error)
    return (
      <ErrorNote
        title="The failures cannot be fetched."
        error={failures.error}
        action={<Button onPress={() => failures.refetch()}>Try again</Button>}
      />
    )
  if (!failures.data) return <Loading>Fetching the failures.</Loading>
  if (failures.data.length === 0)
    return (
      <Empty
        title="No failure is on record."
        action={onRecord ? <Button onPress={onRecord}>Record one</Button> : null}
      >
        What broke, when, in what wind and what it hit: these records are what ratings can be held against.
      </Empty>
    )
  return (
    <>
      <p className="q">{saySum(failures.data)}</p>
      <table className="failures-table">
        <thead>
          <tr>
            <th>Day</th>
            <th>Where</th>
            <th>What</th>
            <th className="n">Gust</th>
          </tr>
        </thead>
        <tbody>
          {shown.map((failure) => (
            <tr key={failure.id}>
              <td className="day-cell">{sayDate(failure.on)}</td>
              <td>{sayWhere(failure, nameOf)}</td>
              <td>
                <b>{failure.nearMiss ? 'Near miss' : partWords[failure.part]}</b>
                {failure.nearMiss ? `, ${partWords[failure.part].toLowerCase()}` : ' broke'}.{' '}
                {sayHit(failure)}
                {failure.note ? <span className="s q"> {failure.note}</span> : null}
              </td>
              <td className="n">{failure.gustMps === null ? 'not known' : `${failure.gustMps} m/s`}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {failures.data.length > FAILURES && !all ? (
        <Button kind="quiet" onPress={() => setAll(true)}>
          All {failures.data.length}
        </Button>
      ) : null}
    </>
  )
}

function sayWhere({ treeId, place }: FailureInput, nameOf: (id: string) => string) {
  if (treeId) return <Link to={`/trees/${treeId}`}>{nameOf(treeId)}</Link>
  if (place) return <Link to={`/ground?at=${place.join(',')}`}>a place without a tree on record</Link>
  return 'not known'
}
const sayHit = ({ hit, nearMiss }: FailureInput) =>
  hit ? `${nearMiss ? 'Nearly hit' : 'Hit'}: ${hit}.` : nearMiss ? '' : 'Hit nothing.'
