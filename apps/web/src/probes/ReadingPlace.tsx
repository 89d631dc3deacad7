import { useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { useStanding } from '../keep/index.ts'
import { Button, Notice } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { Begun, takeUp } from './Begun.tsx'
import { useProbes, useReadingsHere } from './hooks.ts'
import { KeptList } from './KeptList.tsx'
import { holesAt, nextLabel } from './labels.ts'
import { ReadingForm, type VisitChoice } from './ReadingForm.tsx'
import type { KeptReading } from './store.ts'
import { emptyValues } from './values.ts'
import { kindNames, kindSays, type ProbeKind, probeKinds } from './words.ts'
import '../visit/visit.css'
import './probes.css'

/** What is open: nothing yet, or a reading. With a kind it is begun where this device does not keep it already. */
export type Wish = { readingId: string; kind: ProbeKind | null } | null

/** Choosing a kind of reading, going on with one that was left, or filling one in. */
export function ReadingPlace(props: {
  treeId: string
  treeName: string
  visitId: string | null
  visits: readonly VisitChoice[] | null
  wish: Wish
  onWish(wish: Wish): void
  onLeave(): void
  leaveWords: string
}) {
  const { treeId, treeName, visitId, visits, wish, onWish, onLeave, leaveWords } = props
  const me = usePerson()
  const probes = useProbes(treeId)
  const all = useReadingsHere(treeId)
  const [handed, setHanded] = useState<string | null>(null)
  const stored = probes.data ?? []
  const settled = !probes.isPending || probes.fetchStatus === 'paused'
  const holes = [
    ...stored,
    ...all.map(({ id, visitId: visit, values }) => ({
      id,
      visitId: visit,
      kind: values.kind,
      heightM: values.heightM,
    })),
  ]
  const cores = [
    ...all
      .filter(({ values }) => values.kind === 'core')
      .map(({ id, values }) => ({
        id,
        label: values.label,
        says: 'on this device',
        heightM: values.heightM,
        entryBearingDeg: values.entryBearingDeg,
      })),
    ...stored.flatMap((one) => (one.kind === 'core' ? [{ ...one, says: one.on }] : [])),
  ]
  const fresh = (kind: ProbeKind, id: string): KeptReading => ({
    id,
    treeId,
    visitId: visitId ?? visits?.[0]?.id ?? null,
    personId: me.personId,
    values: emptyValues(
      kind,
      nextLabel(kind, [...stored.map(({ label }) => label), ...all.map(({ values }) => values.label)]),
      me.name,
    ),
    keptAt: 0,
    refusals: [],
    probe: null,
  })
  if (wish && settled)
    return (
      <Begun
        key={wish.readingId}
        find={async () => {
          const found = await takeUp(wish.readingId, me.personId)
          return found ?? (wish.kind ? fresh(wish.kind, wish.readingId) : null)
        }}
        onNone={() => onWish(null)}
      >
        {(initial) => (
          <ReadingForm
            initial={initial}
            treeName={treeName}
            visits={visitId === null ? visits : null}
            cores={cores.filter(({ id }) => id !== initial.id)}
            holesAt={({ id, visitId: visit, values }) =>
              holesAt(holes, { id, visitId: visit, heightM: values.heightM })
            }
            onHanded={(readingId) => {
              setHanded(readingId)
              onWish(null)
            }}
            onLeave={() => onWish(null)}
          />
        )}
      </Begun>
    )
  return (
    <div className="reading-choice">
      <h1 tabIndex={-1}>
        Add a reading <span className="q">{treeName}</span>
      </h1>
      {handed ? <Handed readingId={handed} /> : null}
      <KeptList here={all} onOpen={(readingId) => onWish({ readingId, kind: null })} />
      <ul className="kinds">
        {probeKinds.map((kind) => (
          <li key={kind}>
            <AriaButton className="kind" onPress={() => onWish({ kind, readingId: crypto.randomUUID() })}>
              <b>{kindNames[kind]}</b>
              <span className="q">{kindSays[kind]}</span>
            </AriaButton>
          </li>
        ))}
      </ul>
      <div className="reading-foot">
        <Button className="reading-later" onPress={onLeave}>
          {leaveWords}
        </Button>
      </div>
    </div>
  )
}

/** Where a reading that was just handed in is now. */
function Handed({ readingId }: { readingId: string }) {
  const standing = useStanding(readingId)
  if (standing === 'at-the-office') return <Notice tone="kept" title="The reading is at the office." />
  if (standing === 'refused')
    return (
      <Notice tone="refused" title="The office did not take the reading.">
        It is a draft again, below; nothing of it is lost.
      </Notice>
    )
  return (
    <Notice tone="kept" title="The reading is on this phone.">
      It goes to the office by itself, after its visit and when there is signal.
    </Notice>
  )
}
