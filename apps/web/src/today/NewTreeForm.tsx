import type { FoundTreeInput, Position, ScenarioPart, VisitLevel } from '@underbough/model'
import { lazy, Suspense, useEffect, useState } from 'react'
import { Button, Field, Loading, Refusals, Tick } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { callTree, foundTree, proposeTag } from './acts.ts'
import { Cautions } from './Cautions.tsx'
import type { ChangeProps } from './change.ts'
import { Fallen } from './Fallen.tsx'
import { FallenKept } from './FallenKept.tsx'
import { Level } from './Level.tsx'
import { foundTreeOf } from './newTree.ts'
import { placeHere } from './placeHere.ts'
import { Reason } from './Reason.tsx'
import { useAct } from './useAct.ts'

const PickMap = lazy(() => import('./PickMap.tsx'))

/** A tree that is not on record: its species, its tag and its place are enough. */
export function NewTreeForm({ here, position, fallen, onClose }: ChangeProps & { fallen: boolean }) {
  const me = usePerson()
  const { crew, daySheet } = here.whole
  const [tag, setTag] = useState('')
  const [species, setSpecies] = useState('')
  const [tapped, setTapped] = useState<Position | null>(null)
  const [onDay, setOnDay] = useState(!fallen)
  const [level, setLevel] = useState<VisitLevel>(Math.min(2, crew.level) as VisitLevel)
  const [part, setPart] = useState<ScenarioPart | null>(null)
  const [lies, setLies] = useState<number | null>(null)
  const [kept, setKept] = useState<FoundTreeInput | null>(null)
  const { act, busy, refusals } = useAct('this tree', () => {
    if (!fallen) onClose()
  })
  useEffect(() => {
    void proposeTag(here.whole).then((proposed) => setTag((typed) => typed || proposed))
  }, [here.whole])
  const fix = position.whereabouts.state === 'here' ? position.whereabouts.fix : null
  const place = tapped
    ? { position: tapped, accuracyM: null }
    : fix && { position: fix.position, accuracyM: fix.accuracyM }
  const near = [...new Set(daySheet.stops.map((stop) => stop.tree.species))].slice(0, 6)
  if (kept?.fallen)
    return (
      <FallenKept
        treeId={kept.id}
        treeName={callTree(kept.tree)}
        failureId={kept.fallen.failureId}
        onClose={onClose}
      />
    )
  const keepIt = async () => {
    const broke = fallen ? { part: part!, lies } : null
    const found = foundTreeOf({ tag, species, place: place!, level, onDay, fallen: broke }, daySheet.id)
    await foundTree(me, found)
    setKept(found)
  }
  const complete = tag.trim() !== '' && species.trim() !== '' && place !== null && (!fallen || part !== null)
  return (
    <>
      {fallen ? <Cautions /> : null}
      <Reason
        label="Species met on this day"
        ownLabel="Species, botanical where you know it"
        usual={near}
        value={species}
        onChange={setSpecies}
      />
      <Field
        label="Tag"
        hint="Proposed; change it to what the tree bears."
        value={tag}
        onChange={setTag}
        isRequired
      />
      <PlaceOf
        place={place}
        tapped={tapped}
        around={placeHere(here.whole, position.whereabouts)}
        position={position}
        onTap={setTapped}
      />
      {fallen ? <Fallen part={part} lies={lies} onPart={setPart} onLies={setLies} /> : null}
      <Tick isSelected={onDay} onChange={setOnDay}>
        Put it on this day, to be looked at
      </Tick>
      {onDay ? <Level most={crew.level} value={level} onChange={setLevel} /> : null}
      <Refusals title="The tree was not kept." refusals={refusals} />
      <Button kind="do" big isDisabled={busy || !complete} onPress={() => act(keepIt)}>
        Keep this tree
      </Button>
    </>
  )
}

function PlaceOf({
  place,
  tapped,
  around,
  position,
  onTap,
}: {
  place: { accuracyM: number | null } | null
  tapped: Position | null
  around: Position
  position: ChangeProps['position']
  onTap(place: Position | null): void
}) {
  const [map, setMap] = useState(false)
  const { whereabouts, start } = position
  return (
    <div className="place-of">
      <p role="status">
        {tapped
          ? 'Its place: as pressed on the map.'
          : place
            ? `Its place: where the phone is, good to ${Math.round(place.accuracyM ?? 0)} m. Stand at the stem.`
            : 'Its place is not known yet.'}
      </p>
      {whereabouts.state === 'off' ? <Button onPress={start}>Take the phone’s place</Button> : null}
      {tapped && whereabouts.state === 'here' ? (
        <Button onPress={() => onTap(null)}>Take the phone’s place</Button>
      ) : null}
      {map ? (
        <Suspense fallback={<Loading>Fetching the map.</Loading>}>
          <PickMap around={around} pick={{ what: 'place', place: tapped, onPick: onTap }} />
        </Suspense>
      ) : (
        <Button onPress={() => setMap(true)}>Press it on the map</Button>
      )}
    </div>
  )
}
