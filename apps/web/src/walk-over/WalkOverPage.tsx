import { type CivilDate, today as civilToday } from '@underbough/model'
import { useParams } from 'react-router'
import { useZone, type ZoneWhole } from '../api/index.ts'
import { useStanding } from '../keep/index.ts'
import {
  Button,
  count,
  Empty,
  ErrorNote,
  Field,
  KeepingState,
  LinkButton,
  Loading,
  Notice,
  sayDate,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { TreeLine } from './TreeLine.tsx'
import { useWalk } from './useWalk.ts'
import type { Walk } from './walk.ts'
import './walk-over.css'

/** One limited look over a zone: all its trees on one page, and a note only where something was seen. */
export default function WalkOverPage() {
  const { id = '' } = useParams()
  const me = usePerson()
  const zone = useZone(id)
  if (me.role !== 'inspector' && me.role !== 'officer')
    return (
      <div className="page">
        <Empty title="Walk-overs are made by inspectors and officers.">
          What they note stands on the pages of the trees.
        </Empty>
      </div>
    )
  if (zone.data) return <WalkOver whole={zone.data} personId={me.personId} />
  return (
    <div className="page">
      {zone.error ? (
        <ErrorNote
          title="This zone and its trees cannot be shown."
          error={zone.error}
          action={<Button onPress={() => zone.refetch()}>Try again</Button>}
        />
      ) : (
        <Loading>Fetching the zone and its trees.</Loading>
      )}
    </div>
  )
}

function WalkOver({ whole, personId }: { whole: ZoneWhole; personId: string }) {
  const { zone, trees, treesTotal } = whole
  const me = usePerson()
  const today = civilToday(me.organisation.timeZone)
  const { walk, change, close, entered, fault } = useWalk(zone.id, personId, today)
  // A stump or a tree that is gone is not looked at.
  const here = trees.filter((tree) => tree.status === 'standing' || tree.status === 'pole')
  if (!walk) return <Loading>Looking for what this device keeps.</Loading>
  const looked = here.filter((tree) => !walk.leftOut.includes(tree.id))
  if (entered) return <Entered zoneName={zone.name} walk={walk} looked={looked.length} />
  return (
    <div className="walk-over">
      <div className="walk-body">
        <h1>Walk-over: {zone.name}</h1>
        <p className="q">
          One limited look at each tree here, from the ground. It is a look on level 1: it makes no rating,
          and where a tree asks for a closer look, that look stays due.
        </p>
        {fault ? <Notice tone="refused" title={fault} /> : null}
        {treesTotal > trees.length ? (
          <Notice tone="mind">
            {`The ${trees.length} trees that bear most on this zone are listed, of ${treesTotal}. Only those named here are on record as looked at.`}
          </Notice>
        ) : null}
        <DayField walk={walk} today={today} change={change} />
        {here.length === 0 ? (
          <Empty title="No tree reaches this zone.">There is nothing to walk over.</Empty>
        ) : (
          <ul className="walk-trees">
            {here.map((tree) => (
              <TreeLine
                key={tree.id}
                tree={tree}
                note={walk.notes[tree.id] ?? ''}
                leftOut={walk.leftOut.includes(tree.id)}
                onNote={(note) => change({ notes: { ...walk.notes, [tree.id]: note } })}
                onLeaveOut={(out) =>
                  change({
                    leftOut: out ? [...walk.leftOut, tree.id] : walk.leftOut.filter((id) => id !== tree.id),
                  })
                }
              />
            ))}
          </ul>
        )}
        <Field
          label="Remark on the whole"
          value={walk.remark}
          multiline
          onChange={(remark) => change({ remark })}
        />
        <Notice tone="mind">
          Somebody in danger, or a tree about to fail: keep people out and begin a visit to that tree; its
          urgent note goes ahead of everything.
        </Notice>
      </div>
      <div className="walk-foot">
        <Button
          kind="do"
          big
          isDisabled={looked.length === 0 || walk.on > today}
          onPress={() =>
            void close(
              here.map((tree) => tree.id),
              zone.name,
            )
          }
        >
          {sayClose(looked.length, here.length, walk)}
        </Button>
      </div>
    </div>
  )
}

function DayField(props: { walk: Walk; today: CivilDate; change(part: Partial<Walk>): void }) {
  const { walk, today, change } = props
  return (
    <Field
      label="Day"
      type="date"
      value={walk.on}
      refusal={walk.on > today ? 'That day has not come yet.' : null}
      onChange={(on) => on && change({ on })}
    />
  )
}

/** `All 34 trees here looked at; 2 need notes`. */
function sayClose(looked: number, all: number, walk: Walk): string {
  const notes = Object.entries(walk.notes).filter(
    ([id, note]) => note.trim() && !walk.leftOut.includes(id),
  ).length
  const which =
    looked === all
      ? `All ${count(all, 'tree')} here looked at`
      : `${looked} of ${count(all, 'tree')} looked at`
  return `${which}; ${notes === 0 ? 'none needs a note' : `${count(notes, 'note')}`}`
}

function Entered({ zoneName, walk, looked }: { zoneName: string; walk: Walk; looked: number }) {
  const atOffice = useStanding(walk.id) === 'at-the-office'
  return (
    <div className="walk-over">
      <div className="walk-body">
        <h1>The walk-over stands</h1>
        <p>
          {zoneName}, {sayDate(walk.on)}: {count(looked, 'tree')} looked at,{' '}
          {count(Object.values(walk.notes).filter((note) => note.trim()).length, 'note')}.
        </p>
        <p role="status">
          <KeepingState keeping={atOffice ? 'in-the-office' : 'on-this-phone'}>
            {atOffice
              ? 'At the office, and the trees are dated anew.'
              : 'On this phone. It goes to the office by itself; the trees are dated anew there.'}
          </KeepingState>
        </p>
      </div>
      <div className="walk-foot">
        <LinkButton kind="do" big to="/">
          Go on
        </LinkButton>
      </div>
    </div>
  )
}
