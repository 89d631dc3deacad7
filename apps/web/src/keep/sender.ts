import { drain, toClear } from '@underbough/field'
import { batchLimits } from '@underbough/model'
import { liveQuery } from 'dexie'
import { device } from './device.ts'
import { askWho, officeByHttp } from './office.ts'
import { askToPersist, measureRoom } from './room.ts'
import { keepState, tellKeep } from './state.ts'
import { keepOf } from './store.ts'
import { nobodyKnown } from './takeOver.ts'

const lockName = 'underbough-sending'
const now = { ms: () => Date.now(), chance: () => Math.random() }
const keep = keepOf(device)

/** Between passes without an answer: doubling from 2 s to 5 min, like the wait of an entry. */
const silenceMs = (silences: number) => Math.min(300_000, 2_000 * 2 ** Math.min(10, silences - 1))
/** Another window sends, or nobody is signed in: looked at again after so long. */
const againMs = 15_000
/** An office set back to a copy may have grown past the mark again; a device that is never closed asks once a day. */
const askEveryMs = 86_400_000

let askedAt: number | null = null
let silences = 0
let timer: ReturnType<typeof setTimeout> | null = null
let running: Promise<void> | null = null
interface Asked {
  eager: boolean
  others: readonly string[]
}
let wish: Asked | null = null
const takenListeners = new Set<() => void>()

/** Calls back when the office has taken entries of this device: what was read from it before is old. Answers how to stop. */
export function onTaken(listener: () => void): () => void {
  takenListeners.add(listener)
  return () => takenListeners.delete(listener)
}

/**
 * Sends what waits: now, and again until nothing does. `eager`: put-off entries go too. `others`: authors whose entries an officer
 * or manager sends as theirs.
 */
export function sendNow({ eager = true, others = [] }: Partial<Asked> = {}): Promise<void> {
  wish = { eager: eager || (wish?.eager ?? false), others: [...(wish?.others ?? []), ...others] }
  if (eager) silences = 0
  running ??= (async () => {
    while (wish) {
      const asked: Asked = wish
      wish = null
      await pass(asked)
    }
  })().finally(() => {
    running = null
  })
  return running
}

/** A person does not wait longer than that for a message on its way. */
const patienceMs = 5_000

/** Nothing is on its way while `work` runs, in no window: what it takes back was not sent behind its person's back. */
export async function whileNothingGoes<T>(work: () => Promise<T>): Promise<T> {
  if (!navigator.locks) return work()
  try {
    const options = { signal: AbortSignal.timeout(patienceMs) }
    return (await navigator.locks.request(lockName, options, work)) as T
  } catch (error) {
    if ((error as Error)?.name === 'TimeoutError') return work()
    throw error
  }
}

async function pass(asked: Asked): Promise<void> {
  if (timer) clearTimeout(timer)
  tellKeep({ sending: true })
  let wait: number | null = againMs
  try {
    wait = await alone(() => passAlone(asked))
  } catch (error) {
    console.error('Sending failed; what is kept stays kept.', error)
  } finally {
    tellKeep({ sending: false, nextTryAt: wait === null ? null : Date.now() + wait })
    if (wait !== null) timer = setTimeout(() => void sendNow({ eager: false }), wait)
  }
}

/** One window sends for all. */
async function alone(work: () => Promise<number | null>): Promise<number | null> {
  if (!navigator.locks) return work()
  return navigator.locks.request(lockName, { ifAvailable: true }, (lock) => (lock ? work() : againMs))
}

/** Answers how long to wait for the next pass, ms; null where nothing waits. */
async function passAlone({ eager, others }: Asked): Promise<number | null> {
  const askKnown = askedAt === null || Date.now() - askedAt > askEveryMs
  const entries = await device.entries.toArray()
  if (!entries.some(({ state }) => state === 'waiting') && !(askKnown && entries.length > 0)) return null
  const who = await askWho()
  if (who.said !== 'yes') return ended(who.said === 'signed-out' ? 'signed-out' : 'silent')
  const { personId, role } = who.value
  await device.entries.where({ authorId: nobodyKnown }).modify({ authorId: personId })
  const maySendOthers = role === 'officer' || role === 'manager'
  const done = await drain(keep, officeByHttp, now, {
    authorIds: [personId, ...(maySendOthers ? others : [])],
    eager,
    askKnown,
    silences,
    pieceBytes: batchLimits.pieceBytes / 2 ** Math.min(4, silences),
  })
  if (done.ended !== 'silent') tellKeep({ metAt: Date.now() })
  if (done.asked) {
    askedAt = Date.now()
    await clear()
  }
  if (done.decided > 0) for (const listener of takenListeners) listener()
  if (done.ended !== 'done') return ended(done.ended)
  silences = 0
  tellKeep({ signedOut: false })
  return done.nextTryAt === null ? null : Math.max(500, done.nextTryAt - Date.now())
}

function ended(how: 'silent' | 'signed-out'): number {
  if (how === 'signed-out') {
    tellKeep({ signedOut: true })
    return againMs
  }
  silences += 1
  return silenceMs(silences)
}

/** Only just after the office said what it has: see `toClear`. */
async function clear(): Promise<void> {
  const isShort = (await measureRoom())?.isShort ?? false
  await device.transaction('rw', device.entries, device.files, async () => {
    const files: { sha256: string; keptAt: number }[] = []
    await device.files.each(({ sha256, keptAt }) => void files.push({ sha256, keptAt }))
    const gone = toClear(await device.entries.toArray(), files, { now: Date.now(), isShort })
    await device.entries.where('key').anyOf(gone.keys).delete()
    await device.files.bulkDelete(gone.files)
  })
}

async function countEntries(): Promise<Map<string, { waiting: number; refused: number }>> {
  const out = new Map<string, { waiting: number; refused: number }>()
  await device.entries
    .where('state')
    .anyOf('waiting', 'refused')
    .each(({ authorId, state }) => {
      const before = out.get(authorId) ?? { waiting: 0, refused: 0 }
      if (state === 'waiting') before.waiting += 1
      if (state === 'refused') before.refused += 1
      out.set(authorId, before)
    })
  return out
}
const total = (of: ReadonlyMap<string, { waiting: number }>) =>
  [...of.values()].reduce((sum, { waiting }) => sum + waiting, 0)

/** Call once. From then on what is entered goes by itself: when it is entered, when the signal comes, when the page is looked at again. */
export function startSending(): void {
  void askToPersist().catch(() => {})
  void measureRoom().catch(() => {})
  const eager = () => void sendNow()
  window.addEventListener('online', eager)
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') eager()
    void measureRoom().catch(() => {})
  })
  // Follows the store itself, so that entries of other windows count too.
  liveQuery(countEntries).subscribe({
    next: (waiting) => {
      const isMore = total(waiting) > total(keepState().waiting)
      tellKeep({ waiting })
      if (isMore) void sendNow({ eager: false })
    },
    error: () => {},
  })
  eager()
}
