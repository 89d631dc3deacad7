import { useQueryClient } from '@tanstack/react-query'
import { type ReactNode, useEffect, useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { Button, Loading, Notice, sayTime } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { useProbes, useReadingsHere } from './hooks.ts'
import { holesAt, nextLabel } from './labels.ts'
import { ReadingForm, type VisitChoice } from './ReadingForm.tsx'
import { nothingOnItsWay } from './send.ts'
import { type KeptReading, keepReading, readingHere } from './store.ts'
import type { Handed } from './useReading.ts'
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
  const memory = useQueryClient()
  const [handed, setHanded] = useState<Handed | null>(null)
  const here = all.filter((one) => one.personId === me.personId)
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
            onHanded={(how) => {
              setHanded(how)
              void memory.invalidateQueries({ queryKey: ['tree', treeId, 'probes'] })
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
      {handed === 'in-the-office' ? (
        <Notice tone="kept" title="The reading is in the office." />
      ) : handed === 'on-this-device' ? (
        <Notice tone="mind" title="The reading is kept on this device.">
          It goes to the office by itself, after its visit and when there is signal.
        </Notice>
      ) : null}
      <KeptList here={here} onWish={onWish} />
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

/** Holds the first picture of a reading: what arrives later must not change it under a person's thumb. */
function Begun(props: {
  find(): Promise<KeptReading | null>
  onNone(): void
  children(initial: KeptReading): ReactNode
}) {
  const [initial, setInitial] = useState<KeptReading | null>(null)
  const { find, onNone } = props
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked for once; the key changes with the reading
  useEffect(() => {
    let here = true
    void find().then((found) => {
      if (!here) return
      if (found) setInitial(found)
      else onNone()
    })
    return () => {
      here = false
    }
  }, [])
  return initial ? props.children(initial) : <Loading>Looking for it on this device.</Loading>
}

/** A reading this device keeps, taken up again: it waits until it is handed in anew. null where it is not here, or nothing is kept. */
async function takeUp(id: string, personId: string): Promise<KeptReading | null> {
  await nothingOnItsWay()
  try {
    const found = await readingHere(id)
    if (!found || found.personId !== personId) return null
    if (found.probe) await keepReading({ ...found, probe: null })
    return { ...found, probe: null }
  } catch {
    return null
  }
}

function KeptList({ here, onWish }: { here: readonly KeptReading[]; onWish(wish: Wish): void }) {
  if (here.length === 0) return null
  return (
    <section className="kept-readings" aria-label="On this device">
      <h2>On this device, not yet in the office</h2>
      <ul className="kinds">
        {here.map((one) => (
          <li key={one.id}>
            <AriaButton className="kind" onPress={() => onWish({ readingId: one.id, kind: null })}>
              <b>
                {one.values.label} {kindNames[one.values.kind]}
              </b>
              <span className={one.refusals.length > 0 ? 'field-refusal' : 'q'}>
                {one.refusals[0]?.message ??
                  (one.probe
                    ? 'handed in, waits for signal or for its visit'
                    : `left at ${sayTime(one.keptAt)}: go on`)}
              </span>
            </AriaButton>
          </li>
        ))}
      </ul>
    </section>
  )
}
