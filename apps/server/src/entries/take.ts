import {
  type EntryAnswer,
  type EntryEnvelope,
  type EntryKind,
  entryBodies,
  type Refusal,
  refusal,
} from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { refusalOfDatabase } from '../http/database-refusal.ts'
import { Refused, refusalsOf, refuse } from '../http/problem.ts'
import { unstorable } from '../http/unstorable.ts'
import { authorOf } from './author.ts'
import { digestOf } from './canonical.ts'
import { putRightMs, withTimesPutRight } from './clock.ts'
import { upgraded } from './formats.ts'
import type { When } from './handle.ts'
import { putOnRecord } from './handlers.ts'
import { claimKey, receivedByKey, settleKey } from './queries.ts'
import { withinTransaction } from './within.ts'

/** What the entries of one batch share. */
export interface Carrier {
  format: number
  deviceId: string
  receivedAt: string
  /** Office minus device, as the batch arrived. */
  clockOffsetMs: number
}

/** Judges one entry and puts it on record with its key, both or neither. Never throws: a failure of ours lets it come again. */
export async function takeEntry(
  deps: Deps,
  sender: Person,
  carrier: Carrier,
  entry: EntryEnvelope,
): Promise<EntryAnswer> {
  try {
    return await judged(deps, sender, carrier, entry)
  } catch (error) {
    const refusals = error instanceof Refused ? error.refusals : [refusalOfDatabase(error) ?? fault(error)]
    return refusedWith(entry, refusals)
  }
}

async function judged(
  deps: Deps,
  sender: Person,
  carrier: Carrier,
  entry: EntryEnvelope,
): Promise<EntryAnswer> {
  const organisationId = sender.organisation.id
  const digest = digestOf(entry.kind, entry.body)
  const known = await receivedByKey(deps.database.db, organisationId, entry.key)
  if (known) return again(entry.key, digest, known)
  const author = await authorOf(deps.database.db, sender, entry.authorId)
  const { madeAt } = entry
  const clockOffsetMs = entry.clockOffsetMs ?? carrier.clockOffsetMs
  const when: When = { madeAt, clockOffsetMs, receivedAt: carrier.receivedAt }
  const { kind, body } = checked(carrier, entry, when, author)
  let afterCommit = async () => {}
  const answer = await deps.database.transaction(async (tx): Promise<EntryAnswer> => {
    const claimed = await claimKey(tx, {
      organisationId,
      key: entry.key,
      kind,
      digest,
      verdict: 'taken',
      authorId: author.personId,
      sentBy: sender.personId,
      deviceId: carrier.deviceId,
      format: carrier.format,
      ...when,
    })
    if (!claimed) return again(entry.key, digest, (await receivedByKey(tx, organisationId, entry.key))!)
    const bound = withinTransaction(deps, tx)
    const settled = await putOnRecord(bound.deps, author, kind, body, when)
    await settleKey(tx, organisationId, entry.key, settled.verdict, settled.answer)
    afterCommit = bound.afterCommit
    return {
      key: entry.key,
      verdict: settled.verdict,
      again: false,
      refusals: settled.notes,
      answer: settled.answer,
    }
  })
  await afterCommit()
  return answer
}

/** The body in the present form, checked, with the times of the device's clock put right. */
function checked({ format }: Carrier, entry: EntryEnvelope, when: When, author: Person) {
  if (!Object.hasOwn(entryBodies, entry.kind))
    refuse(
      'entry-kind-unknown',
      'kind',
      `This office does not know entries of the kind “${entry.kind}”. It is kept on the phone; update the office.`,
    )
  const kind = entry.kind as EntryKind
  const given = upgraded(format, kind, entry.body)
  const read = entryBodies[kind].safeParse(given)
  if (!read.success) throw new Refused(refusalsOf(read.error, given))
  const wrong = unstorable(read.data)
  if (wrong.length > 0) throw new Refused(wrong)
  const { timeZone } = author.organisation
  const clock = { madeAt: when.madeAt, byMs: putRightMs(when.clockOffsetMs), timeZone }
  return { kind, body: withTimesPutRight(kind, read.data, clock) }
}

type Known = NonNullable<Awaited<ReturnType<typeof receivedByKey>>>
function again(key: string, digest: string, known: Known): EntryAnswer {
  if (known.digest !== digest)
    refuse(
      'entry-key-reused',
      'key',
      'Another entry bears this key and is on record. Nothing was written; enter it again as a new one.',
    )
  return { key, verdict: known.verdict, again: true, refusals: [], answer: known.answer }
}

function fault(error: unknown): Refusal {
  // Without the statement and its values.
  console.error('An entry failed:', (error as Error).cause ?? error)
  return refusal('internal-fault', '', {
    message: 'The office failed on this entry. It is kept on the phone and will be sent again.',
  })
}

const nothingDecided = new Set<string>(['internal-fault', 'unavailable', 'bytes-missing', 'owner-missing'])

/** What an entry stands on may be on its way still, under way from this device or another: the entry waits for it. */
const owners: Record<string, RegExp> = {
  'urgent-note': /^treeId$/,
  closing: /^treeId$/,
  'tree-change': /^id$/,
  'visit-draft': /^treeId$/,
  reading: /^(visitId|reading\.ofProbeId)$/,
  borders: /^id$/,
  failure: /^treeId$/,
  'tree-event': /^treeId$/,
  'walk-over': /^treeIds$/,
  'stop-added': /^treeId$/,
  'stop-end': /^(id|visitId)$/,
  'hand-over': /^stopIds$/,
}

/** An entry that was not put on record, and whether it may come again as it is. */
export function refusedWith(
  { key, kind }: Pick<EntryEnvelope, 'key' | 'kind'>,
  reasons: Refusal[],
): EntryAnswer {
  const owner = owners[kind]
  const refusals = reasons.map(
    (one): Refusal =>
      one.code === 'unknown' && owner?.test(one.path) ? { ...one, code: 'owner-missing' } : one,
  )
  const verdict = refusals.every((one) => nothingDecided.has(one.code)) ? 'later' : 'refused'
  return { key, verdict, again: false, refusals, answer: null }
}
