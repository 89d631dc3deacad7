import { useEffect, useMemo, useState } from 'react'
import { useParams, useSearchParams } from 'react-router'
import { Button, Empty, ErrorNote, LinkButton, Loading } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { draftOf, newDraft } from './draft.ts'
import { type KeptVisit, keptVisit } from './store.ts'
import { useGround } from './useGround.ts'
import { Visit } from './Visit.tsx'
import './visit.css'

/** A visit to one tree: taken up where it was left on this device, or in the office, or begun. */
export default function VisitPage() {
  const { id = '' } = useParams()
  const me = usePerson()
  const [query] = useSearchParams()
  const stopId = query.get('stop')
  const kept = useKept(id, me.personId)
  const fresh = useGround(id)
  const [now] = useState(() => new Date())
  const [visitId] = useState(() => crypto.randomUUID())

  const initial = useMemo((): KeptVisit | null => {
    if (kept) return { ...kept, stopId: stopId ?? kept.stopId ?? null }
    if (kept === undefined || !fresh.ground) return null
    const { ground, near } = fresh
    const today = fresh.today ?? now.toISOString().slice(0, 10)
    const begun = newDraft(ground, me.personId, now, visitId, today)
    const office = ground.whole.visits.find((v) => v.stage === 'draft' && v.personId === me.personId)
    const draft = office ? draftOf(office, begun) : begun
    return {
      id: draft.id,
      treeId: id,
      personId: me.personId,
      draft,
      ground,
      near,
      keptAt: now.getTime(),
      sentAt: office ? now.getTime() : null,
      stopId,
      toClose: false,
      refusals: [],
    }
  }, [kept, fresh, me.personId, now, visitId, id, stopId])
  // The first whole picture stands: figures that arrive later must not move under a person's thumb.
  const [held, hold] = useState<KeptVisit | null>(null)
  useEffect(() => {
    if (initial && !held) hold(initial)
  }, [initial, held])

  if (me.role !== 'inspector' && me.role !== 'officer')
    return (
      <div className="page">
        <Empty
          title="Visits are made by inspectors and officers."
          action={
            <LinkButton kind="do" to={`/trees/${id}`}>
              Read about this tree
            </LinkButton>
          }
        >
          What they find stands on the tree’s page.
        </Empty>
      </div>
    )
  if (held) return <Visit key={held.id} initial={held} stopId={held.stopId} />
  return (
    <div className="page">
      {fresh.error ? (
        <ErrorNote
          title="This visit cannot be begun."
          error={fresh.error}
          action={<Button onPress={fresh.again}>Try again</Button>}
        />
      ) : (
        <Loading>Fetching the tree and who is near it.</Loading>
      )}
    </div>
  )
}

/** What this device keeps of a visit here; undefined while it is looked for. */
function useKept(treeId: string, personId: string): KeptVisit | null | undefined {
  const [kept, setKept] = useState<KeptVisit | null | undefined>(undefined)
  useEffect(() => {
    let here = true
    keptVisit(treeId, personId)
      .then((found) => here && setKept(found))
      // A browser that keeps nothing still lets a visit be made, from memory alone.
      .catch(() => here && setKept(null))
    return () => {
      here = false
    }
  }, [treeId, personId])
  return kept
}
