import { useEffect, useState } from 'react'
import { useNavigate, useParams, useSearchParams } from 'react-router'
import { useTree } from '../api/index.ts'
import { Button, Empty, ErrorNote, LinkButton, Loading, sayDate } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { useReadingsHere } from './hooks.ts'
import { ReadingPlace, type Wish } from './ReadingPlace.tsx'
import { isProbeKind } from './words.ts'

/** Adding a reading from the tree's page, to one of its visits. */
export default function ReadingPage() {
  const { id = '' } = useParams()
  const [query, setQuery] = useSearchParams()
  const go = useNavigate()
  const { role, personId } = usePerson()
  const tree = useTree(id)
  const here = useReadingsHere(id)
  const kind = query.get('kind')
  const readingId = query.get('reading')
  const [freshId, setFreshId] = useState(() => crypto.randomUUID())
  const wish: Wish = isProbeKind(kind)
    ? { kind, readingId: readingId ?? freshId }
    : readingId
      ? { kind: null, readingId }
      : null
  // The address names the reading, so that the page finds it again after it was left or loaded anew.
  useEffect(() => {
    if (isProbeKind(kind) && !readingId) setQuery({ kind, reading: freshId }, { replace: true })
  }, [kind, readingId, freshId, setQuery])
  if (role !== 'inspector' && role !== 'officer')
    return (
      <div className="page">
        <Empty
          title="Readings are entered by inspectors and officers."
          action={
            <LinkButton kind="do" to={`/trees/${id}`}>
              Read about this tree
            </LinkButton>
          }
        />
      </div>
    )
  if (!tree.data && here.length === 0)
    return (
      <div className="page">
        {tree.error ? (
          <ErrorNote
            title="The visits of this tree cannot be fetched."
            error={tree.error}
            action={<Button onPress={() => tree.refetch()}>Try again</Button>}
          />
        ) : (
          <Loading>Fetching the visits of this tree.</Loading>
        )}
      </div>
    )
  const known = (tree.data?.visits ?? [])
    .filter((visit) => visit.stage === 'closed' || visit.personId === personId)
    .sort((a, b) => (b.endedAt ?? b.startedAt).localeCompare(a.endedAt ?? a.startedAt))
  const closedFirst = [
    ...known.filter(({ stage }) => stage === 'closed'),
    ...known.filter(({ stage }) => stage !== 'closed'),
  ]
  const elsewhere = here.flatMap(({ visitId }) =>
    visitId && !known.some((visit) => visit.id === visitId) ? [visitId] : [],
  )
  const visits = [
    ...closedFirst.map((visit) => ({
      id: visit.id,
      label: `${sayDate(visit.startedAt.slice(0, 10))}, ${visit.personName}, level ${visit.level}${visit.stage === 'closed' ? '' : ', not closed yet'}`,
    })),
    ...[...new Set(elsewhere)].map((visit) => ({ id: visit, label: 'The visit it was begun in' })),
  ]
  if (visits.length === 0)
    return (
      <div className="page">
        <Empty
          title="A reading belongs to a visit, and nobody has visited this tree yet."
          action={
            <LinkButton kind="do" to={`/trees/${id}/visit`}>
              Start a visit
            </LinkButton>
          }
        >
          A visit has steps for base, stem and branches; readings are added from there.
        </Empty>
      </div>
    )
  const show = (next: Wish) => {
    // What was handed in or left is not begun anew by going back.
    if (next === null) setFreshId(crypto.randomUUID())
    const words = next ? { ...(next.kind ? { kind: next.kind } : {}), reading: next.readingId } : {}
    setQuery(words, { replace: next === null })
  }
  return (
    <div className="page reading-page">
      <ReadingPlace
        treeId={id}
        treeName={
          tree.data ? `${tree.data.tree.tag} ${tree.data.tree.commonName ?? tree.data.tree.species}` : ''
        }
        visitId={null}
        visits={visits}
        wish={wish}
        onWish={show}
        onLeave={() => void go(`/trees/${id}`)}
        leaveWords="Back to the tree"
      />
    </div>
  )
}
