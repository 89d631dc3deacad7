import { type BatchAnswer, type EntryAnswer, entryEnvelope, entryFormat, refusal } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { refusalsOf } from '../http/problem.ts'
import { upgradedEnvelope } from './formats.ts'
import { knownKeys, officeMark } from './queries.ts'
import { type Carrier, refusedWith, takeEntry } from './take.ts'

/** A batch whose envelopes have not been read yet: one that cannot be read must not hold up the others. */
export interface Batch {
  format: number
  deviceId: string
  sentAt: string
  entries: unknown[]
}

/**
 * Judges the entries of a batch in the order in which they came, each in its own transaction. Those that stand on one further down are
 * judged again after it.
 */
export async function takeBatch(deps: Deps, sender: Person, batch: Batch): Promise<BatchAnswer> {
  const now = deps.now()
  const clockOffsetMs = now.getTime() - Date.parse(batch.sentAt)
  const carrier = { ...batch, receivedAt: now.toISOString(), clockOffsetMs }
  const answers: EntryAnswer[] = []
  for (const entry of batch.entries) answers.push(await takeOne(deps, sender, carrier, entry))
  let progress = true
  while (progress) {
    progress = false
    for (const [i, answer] of answers.entries()) {
      if (!waitsForOwner(answer)) continue
      const next = await takeOne(deps, sender, carrier, batch.entries[i])
      progress ||= !waitsForOwner(next)
      answers[i] = next
    }
  }
  return {
    officeNow: deps.now().toISOString(),
    clockOffsetMs,
    officeMark: await officeMark(deps.database.db, sender.organisation.id),
    answers,
  }
}

const waitsForOwner = ({ verdict, refusals }: EntryAnswer) =>
  verdict === 'later' && refusals.some((one) => one.code === 'owner-missing')

/** Stands in an answer for a key that could not be read; answers come in the order of their entries. */
const noKey = '00000000-0000-0000-0000-000000000000'

async function takeOne(deps: Deps, sender: Person, carrier: Carrier, entry: unknown): Promise<EntryAnswer> {
  const key = keyOf(entry)
  if (carrier.format > entryFormat)
    return refusedWith({ key, kind: '' }, [
      refusal('entry-format-unknown', 'format', {
        value: carrier.format,
        limit: `at most ${entryFormat}`,
        message: 'This phone is newer than the office. The entry is kept on the phone; update the office.',
      }),
    ])
  const read = entryEnvelope.safeParse(upgradedEnvelope(carrier.format, entry))
  return read.success
    ? takeEntry(deps, sender, carrier, read.data)
    : refusedWith({ key, kind: '' }, refusalsOf(read.error, entry))
}

function keyOf(entry: unknown): string {
  const read = entryEnvelope.pick({ key: true }).safeParse(entry)
  return read.success ? read.data.key : noKey
}

/** Which of these keys are not on record: a device asks after the office was restored from a copy. */
export async function missingKeys(deps: Deps, person: Person, keys: string[]) {
  const { db } = deps.database
  const known = await knownKeys(db, person.organisation.id, keys)
  return {
    missing: keys.filter((key) => !known.has(key)),
    officeMark: await officeMark(db, person.organisation.id),
  }
}
