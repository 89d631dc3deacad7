import {
  type CivilDate,
  type FoundTreeInput,
  foundFallen as failureFound,
  type ScenarioPart,
  type Tree,
  today,
  treeInput,
  type VisitLevel,
} from '@underbough/model'
import type { Me, Stop, TreeRow } from '../api/index.ts'
import { device, enter, whileNothingGoes } from '../keep/index.ts'
import { putChange, waitingChange } from '../tree/change.ts'
import type { Filled } from './dayHere.ts'

/*
 * What a crew does with its day. Each is an entry on this device that goes to the office by itself; each throws where the device
 * cannot keep it.
 */

export const addedPrefix = 'added-tree '
/** Under which name the tree of a stop put on here is remembered, so that the day can show it without signal. */
export const addedName = (stopId: string) => `${addedPrefix}${stopId}`

export const callTree = ({ tag, commonName, species }: Pick<TreeRow, 'tag' | 'commonName' | 'species'>) =>
  `${tag} ${commonName ?? species}`
const callDay = ({ crew, date }: Filled) => `${crew.name}, ${date}`

export const skipStop = (me: Me, stop: Stop, because: string) =>
  enter(
    'stop-end',
    { stopId: stop.id, visitId: null, skippedBecause: because },
    {
      authorId: me.personId,
      subjectId: stop.id,
      treeId: stop.tree.id,
      label: `Skipped: ${callTree(stop.tree)}`,
    },
  )

export const orderDay = (me: Me, day: Filled, stopIds: string[], because: string) =>
  enter(
    'day-order',
    { daySheetId: day.daySheet.id, stopIds, because },
    {
      authorId: me.personId,
      subjectId: day.daySheet.id,
      treeId: null,
      label: `Order of the day: ${callDay(day)}`,
    },
  )

export const addStop = (me: Me, day: Filled, tree: TreeRow, level: VisitLevel, because: string) =>
  device.transaction('rw', device.entries, device.remembered, async () => {
    const stopId = crypto.randomUUID()
    await device.remembered.put({ name: addedName(stopId), value: tree })
    await enter(
      'stop-added',
      { stopId, daySheetId: day.daySheet.id, treeId: tree.id, level, because },
      {
        authorId: me.personId,
        subjectId: stopId,
        treeId: tree.id,
        label: `Put on the day: ${callTree(tree)}`,
      },
    )
  })

export const foundTree = (me: Me, found: FoundTreeInput) =>
  enter('found-tree', found, {
    authorId: me.personId,
    subjectId: found.id,
    treeId: found.id,
    label: `${found.fallen ? 'Found fallen' : 'New tree'}: ${callTree(found.tree)}`,
  })

/** Whether a record is to say that its tree stands no more: as the office does with a tree nobody had on record. */
export const goesWith = (part: ScenarioPart | null, status: Tree['status']): boolean =>
  part === 'whole-tree' && status !== 'stump' && status !== 'gone'

/** A fall as it was found: which tree, and its record where this device has it. */
export interface Fall {
  failureId: string
  tree: TreeRow
  record: Tree | null
  part: ScenarioPart
  lies: number | null
}

/**
 * A tree of the inventory that was found fallen, or a part of it. Where the whole tree lies, its record says from today on that it is gone,
 * in the same write; without its record on this device that is left to the officer.
 */
export const foundFallen = (me: Me, { failureId, tree, record, part, lies }: Fall): Promise<void> =>
  whileNothingGoes(() =>
    device.transaction('rw', device.entries, device.remembered, async () => {
      const on = todayAt(me)
      await enter(
        'failure',
        failureFound({ id: failureId, treeId: tree.id, place: tree.position, on, part, lies }),
        {
          authorId: me.personId,
          subjectId: failureId,
          treeId: tree.id,
          label: `Found fallen: ${callTree(tree)}`,
        },
      )
      if (!record || !goesWith(part, record.status)) return
      const said = (await waitingChange(tree.id, me.personId))?.body.tree ?? treeInput.parse(record)
      await putChange(record, { ...said, status: 'gone', goneOn: on }, me.personId)
    }),
  )

export const todayAt = (me: Me): CivilDate => today(me.organisation.timeZone)

export const handOver = (me: Me, day: Filled, toCrewId: string, stopIds: string[], because: string) =>
  enter(
    'hand-over',
    { daySheetId: day.daySheet.id, toCrewId, stopIds, because },
    {
      authorId: me.personId,
      subjectId: crypto.randomUUID(),
      treeId: null,
      label: `Handed over: ${stopIds.length === 1 ? '1 stop' : `${stopIds.length} stops`} of ${callDay(day)}`,
    },
  )

/** A tag for a new tree, to be changed by its person: crew, day and a number that no tree of the day or of this device's entries bears. */
export async function proposeTag({ crew: { letter }, date, daySheet }: Filled): Promise<string> {
  const stem = `${letter}${date.slice(5, 7)}${date.slice(8)}`
  const taken = new Set(daySheet.stops.map((stop) => stop.tree.tag))
  for (const { body } of await device.entries.filter(({ kind }) => kind === 'found-tree').toArray())
    taken.add((body as FoundTreeInput).tree.tag)
  for (let n = 1; ; n++) if (!taken.has(`${stem}-${n}`)) return `${stem}-${n}`
}
