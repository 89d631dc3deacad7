import type { CivilDate } from '@underbough/model'
import { isSilence, noSignal, readProblem } from '../api/index.ts'
import { cacheOf, canKeep, keep, keptUnder } from './cache.ts'
import { fetchPack, type PackFile, type PackPorts, type Progress } from './fetch.ts'
import { dropDay, dropOldDays, keepRecord, namesOf, type PackRecord, recordOf } from './records.ts'

/** How one day stands on this device. */
export type PackState =
  | { phase: 'looking' }
  /** No day has been sent for this date. */
  | { phase: 'none' }
  /** Not on this device, and the office is silent. */
  | { phase: 'away' }
  | { phase: 'fetching'; progress: Progress }
  | { phase: 'kept'; at: Date; bytes: number; failed: readonly PackFile[] }
  | { phase: 'no-room'; needBytes: number; freeBytes: number }
  /** The browser keeps nothing for this address: it lacks HTTPS. */
  | { phase: 'cannot' }

interface Manifest {
  tag: string
  trees: number
  bytes: number
  files: PackFile[]
}
/** Some room beyond what a day takes, for what its people enter. */
const SPARE = 1.2

/** The days of one person on this device. One day is fetched at a time, in one window. */
export class Packs {
  private states = new Map<CivilDate, PackState>()
  private listeners = new Set<() => void>()
  private queue: Promise<unknown> = Promise.resolve()
  private stop = new AbortController()

  constructor(readonly personId: string) {}

  listen = (listener: () => void) => {
    this.listeners.add(listener)
    return () => void this.listeners.delete(listener)
  }
  stateOf = (date: CivilDate): PackState => this.states.get(date) ?? looking
  private put(date: CivilDate, state: PackState): void {
    this.states.set(date, state)
    for (const listener of this.listeners) listener()
  }

  /** Shows what is kept; with `fetch`, asks the office whether the day changed and fetches what is lacking. */
  look(date: CivilDate, today: CivilDate, fetch: boolean): Promise<void> {
    const run = () => inOneWindow(() => this.run(date, today, fetch))
    const done = this.queue.then(run).catch(() => this.put(date, { phase: 'away' }))
    this.queue = done
    return done
  }
  async drop(date: CivilDate): Promise<void> {
    await dropDay(this.personId, date)
    this.put(date, looking)
  }
  close(): void {
    this.stop.abort()
  }

  private async run(date: CivilDate, today: CivilDate, fetch: boolean): Promise<void> {
    if (!canKeep()) return this.put(date, { phase: 'cannot' })
    const record = await recordOf(this.personId, date)
    if (record?.keptAt) this.put(date, keptState(record))
    if (!fetch || this.stop.signal.aborted) return
    const whole = record?.keptAt && record.failed.length === 0 ? record.tag : null
    let asked: Manifest | 'same'
    try {
      asked = await askManifest(date, whole)
    } catch {
      if (!record?.keptAt) this.put(date, { phase: 'away' })
      return
    }
    if (asked === 'same') return
    if (asked.files.length === 0) return this.put(date, { phase: 'none' })
    await dropOldDays(this.personId, today)
    await this.fetch(date, asked, record)
  }

  private async fetch(date: CivilDate, asked: Manifest, before: PackRecord | null): Promise<void> {
    const free = await freeBytes()
    if (free !== null && free < asked.bytes * SPARE)
      return this.put(date, { phase: 'no-room', needBytes: asked.bytes, freeBytes: free })
    const goesOn = before?.tag === asked.tag
    const record: PackRecord = {
      date,
      tag: asked.tag,
      begunAt: goesOn ? before.begunAt : new Date().toISOString(),
      keptAt: null,
      bytes: asked.bytes,
      trees: asked.trees,
      names: namesOf(asked.files),
      failed: [],
    }
    await keepRecord(this.personId, record)
    const tell = (progress: Progress) => this.put(date, { phase: 'fetching', progress })
    const ports = portsOf(await cacheOf(this.personId))
    const end = await fetchPack(asked.files, new Date(record.begunAt), ports, tell, this.stop.signal)
    if (this.stop.signal.aborted) return
    const kept = { ...record, keptAt: new Date().toISOString(), bytes: end.gotBytes, failed: end.failed }
    await keepRecord(this.personId, kept)
    if (end.full)
      return this.put(date, {
        phase: 'no-room',
        needBytes: end.allBytes - end.gotBytes,
        freeBytes: (await freeBytes()) ?? 0,
      })
    this.put(date, keptState(kept))
  }
}
const looking: PackState = { phase: 'looking' }
const keptState = ({ keptAt, bytes, failed }: PackRecord): PackState => ({
  phase: 'kept',
  at: new Date(keptAt!),
  bytes,
  failed,
})

/** Two windows must not fetch the same day side by side. */
async function inOneWindow(run: () => Promise<void>): Promise<void> {
  if ('locks' in navigator) await navigator.locks.request('underbough-pack', run)
  else await run()
}

async function askManifest(date: CivilDate, tag: string | null): Promise<Manifest | 'same'> {
  const headers = tag ? { 'if-none-match': `"${tag}"` } : undefined
  const answer = await fetch(`/api/days/${date}/pack`, { headers, cache: 'no-store' })
  if (answer.status === 304) return 'same'
  if (!answer.ok) throw readProblem(answer.status, await answer.json().catch(() => null))
  return (await answer.json()) as Manifest
}

const portsOf = (cache: Cache): PackPorts => ({
  keptAt: async (at) => (await keptUnder(cache, at))?.at ?? null,
  fetch: async (at, signal) => {
    const answer = await fetch(at, { signal, cache: 'no-store' }).catch(() => {
      throw noSignal()
    })
    if (!answer.ok) throw readProblem(answer.status, await answer.json().catch(() => null))
    return answer.blob()
  },
  keep: (at, body) => keep(cache, at, body, body.type),
  isSilence,
  now: () => new Date(),
})

/** Bytes that this device still gives the program; null where it does not say. */
async function freeBytes(): Promise<number | null> {
  const { quota, usage } = (await navigator.storage?.estimate?.().catch(() => null)) ?? {}
  return quota === undefined || usage === undefined ? null : Math.max(0, quota - usage)
}
