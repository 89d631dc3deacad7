import type { EntryKind, Role } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { keepPhotoOf } from '../photos/service.ts'
import { endStop } from '../plans/service.ts'
import { acceptBorders, keepProbe } from '../probes/service.ts'
import { keepEvent, keepFailure } from '../records/entered.ts'
import { keepWalkOver } from '../records/service.ts'
import { dayOrder, handOver, stopAdded } from '../today/day.ts'
import { writeNote } from '../urgent-notes/service.ts'
import { visitById } from '../visits/queries.ts'
import { closeVisit, type FromDevice, keepDraft } from '../visits/service.ts'
import { moved, putRightMs } from './clock.ts'
import type { Handle, When } from './handle.ts'
import { laterDraftTaken } from './queries.ts'
import { Settled } from './settled.ts'
import { foundTree, treeChange } from './trees.ts'

/** When an entry was made by the office's clock, never later than it came. */
const fromDevice = ({ madeAt, clockOffsetMs, receivedAt }: When): FromDevice => {
  const putRight = putRightMs(clockOffsetMs)
  const byOffice = moved(madeAt, putRight)
  return {
    madeAt: Date.parse(byOffice) < Date.parse(receivedAt) ? byOffice : receivedAt,
    putRightMs: putRight,
  }
}

/**
 * Drafts come in any order, and after their closing: only the one made last counts, and one made before its visit was closed has
 * nothing to add.
 */
const visitDraft: Handle<'visit-draft'> = async (deps, author, body, when) => {
  const { db } = deps.database
  const from = fromDevice(when)
  const stored = await visitById(db, author.organisation.id, body.id)
  const own = stored !== null && stored.personId === author.personId && stored.treeId === body.treeId
  if (own && stored.closedAt && Date.parse(from.madeAt) <= Date.parse(stored.closedAt)) return stored
  if (own && (await laterDraftTaken(db, author.organisation.id, author.personId, body.id, from.madeAt)))
    return stored
  return keepDraft(deps, author, body, from)
}

const stopEnd: Handle<'stop-end'> = (deps, author, { stopId, ...end }) => endStop(deps, author, stopId, end)

/** What puts each kind of entry on record, and the roles whose entries of that kind are taken: the author's, whoever sends them. */
const handlers: { [K in EntryKind]: { roles: readonly Role[]; handle: Handle<K> } } = {
  'urgent-note': {
    roles: ['inspector', 'officer', 'manager'],
    handle: (deps, author, body, when) => writeNote(deps, author, body, fromDevice(when).madeAt),
  },
  closing: {
    roles: ['inspector', 'officer'],
    handle: (deps, author, body, when) => closeVisit(deps, author, body, fromDevice(when)),
  },
  'found-tree': { roles: ['inspector', 'officer', 'manager'], handle: foundTree },
  'tree-change': { roles: ['inspector', 'officer', 'manager'], handle: treeChange },
  'visit-draft': { roles: ['inspector', 'officer'], handle: visitDraft },
  reading: { roles: ['inspector', 'officer'], handle: keepProbe },
  borders: {
    roles: ['inspector', 'officer'],
    handle: (deps, author, { probeId, borders }) => acceptBorders(deps, author, probeId, borders),
  },
  failure: { roles: ['inspector', 'officer', 'manager'], handle: keepFailure },
  'tree-event': { roles: ['inspector', 'officer', 'manager'], handle: keepEvent },
  'walk-over': {
    roles: ['inspector', 'officer'],
    handle: (deps, author, body) =>
      deps.database.transaction((tx) => keepWalkOver(tx, author, body, deps.now())),
  },
  'stop-added': { roles: ['inspector', 'officer'], handle: stopAdded },
  'stop-end': { roles: ['inspector', 'officer'], handle: stopEnd },
  'day-order': { roles: ['inspector', 'officer'], handle: dayOrder },
  'hand-over': { roles: ['inspector', 'officer'], handle: handOver },
  photo: { roles: ['inspector', 'officer', 'manager'], handle: keepPhotoOf },
}

/** Puts an entry whose body has been checked on record. Throws `Refused`. */
export async function putOnRecord(
  deps: Deps,
  author: Person,
  kind: EntryKind,
  body: unknown,
  when: When,
): Promise<Settled> {
  const { roles, handle } = handlers[kind]
  if (!roles.includes(author.role))
    refuse('forbidden', 'authorId', `A ${author.role} makes no entries of this kind.`)
  const result = await handle(deps, author, body as never, when)
  return result instanceof Settled ? result : new Settled(result ?? null)
}
