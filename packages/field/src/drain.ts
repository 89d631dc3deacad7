import { batchLimits, entryFormat, type Refusal, refusal } from '@underbough/model'
import type { KeptEntry } from './entry.ts'
import { batchOf, sendable } from './order.ts'
import type { Keep, Office } from './ports.ts'
import { replacedBy } from './replaced.ts'
import { judged, type Now, putBack, putOff } from './verdicts.ts'

export interface Wish {
  authorIds: readonly string[]
  /** Put-off entries go too. */
  eager?: boolean
  /** Ask first whether the office still has what was sent; once in each start of the program. */
  askKnown?: boolean
  /** Passes in a row that found no answer: messages grow smaller, in case one of their entries is what breaks the way. */
  silences?: number
  /** Bytes of a file in one message; smaller ones lose less on a poor line. */
  pieceBytes?: number
}
/** How a pass ended. `silent`: the office did not answer; nothing was decided. */
export interface Drained {
  ended: 'done' | 'silent' | 'signed-out'
  /** Entries that got a verdict. */
  decided: number
  /** Whether the office was asked for all that was sent, and answered: only then may any of it be cleared from the device. */
  asked: boolean
  /** Device clock, ms: when the next put-off entry may go; null where none waits for its time. */
  nextTryAt: number | null
}
type Step = 'on' | 'silent' | 'signed-out'

/**
 * One pass: sends what may go, piece by piece, until nothing may or the office falls silent. It can be stopped at any point and begun
 * again: every entry bears a key, and files go on from where the office says. At most one pass at a time on a device.
 */
export async function drain(keep: Keep, office: Office, now: Now, wish: Wish): Promise<Drained> {
  const pass = new Pass(keep, office, now, wish)
  const ended = await pass.run()
  const left = sendable(await keep.entries(), { ...wish, now: Number.POSITIVE_INFINITY })
  const times = left.map(({ nextTryAt }) => nextTryAt)
  return {
    ended,
    decided: pass.decided,
    asked: pass.asked,
    nextTryAt: times.length > 0 ? Math.min(...times) : null,
  }
}

/** Longer than a function because a pass remembers how far each file is. */
class Pass {
  decided = 0
  asked = false
  private most: number
  private readonly pieceBytes: number
  private readonly uploads = new Map<string, { received: number; whole: boolean; again: boolean }>()
  /** Sent once in this pass: an eager pass must end. */
  private readonly tried = new Set<string>()

  constructor(
    private readonly keep: Keep,
    private readonly office: Office,
    private readonly now: Now,
    private readonly wish: Wish,
  ) {
    this.most = Math.max(1, Math.floor(batchLimits.entries / 2 ** (wish.silences ?? 0)))
    this.pieceBytes = Math.min(wish.pieceBytes ?? batchLimits.pieceBytes, batchLimits.pieceBytes)
  }

  async run(): Promise<Exclude<Step, 'on'> | 'done'> {
    if (this.wish.askKnown) {
      const asked = await this.askKnown()
      if (asked !== 'on') return asked
    }
    for (;;) {
      const may = sendable(await this.keep.entries(), { ...this.wish, now: this.now.ms() }).filter(
        ({ key }) => !this.tried.has(key),
      )
      const ready = may.filter((entry) => entry.kind !== 'photo' || this.uploads.get(digestOf(entry))?.whole)
      const first = ready.length > 0 ? null : may[0]
      if (ready.length === 0 && !first) return 'done'
      const step = first ? await this.sendPiece(first) : await this.sendBatch(batchOf(ready, this.most))
      if (step !== 'on') return step
    }
  }

  /** An office set back to an older copy lacks entries that it took: they go again. */
  private async askKnown(): Promise<Step> {
    const sent = (await this.keep.entries()).filter(({ state }) => state === 'sent').map(({ key }) => key)
    for (let from = 0; from < sent.length; from += 1000) {
      const answer = await this.office.known(sent.slice(from, from + 1000))
      if (answer.said === 'nothing') return 'silent'
      if (answer.said === 'signed-out') return 'signed-out'
      if (answer.said === 'no') return 'on'
      await this.keep.change(answer.value.missing, putBack)
      for (const key of answer.value.missing) this.tried.delete(key)
      if (from + 1000 >= sent.length) await this.keep.met({ officeMark: answer.value.officeMark })
    }
    this.asked = true
    return 'on'
  }

  private async sendBatch(entries: readonly KeptEntry[]): Promise<Step> {
    const sentAtMs = this.now.ms()
    const answer = await this.office.batch({
      format: entryFormat,
      deviceId: await this.keep.deviceId(),
      sentAt: new Date(sentAtMs).toISOString(),
      entries: entries.map(({ key, kind, authorId, madeAt, clockOffsetMs, body }) => ({
        key,
        kind,
        authorId,
        madeAt,
        clockOffsetMs,
        body,
      })),
    })
    if (answer.said === 'signed-out') return 'signed-out'
    if (answer.said === 'nothing') {
      // One alone that breaks the way again and again steps back, so that the next has its turn.
      if (entries.length === 1) await this.keep.change([entries[0]!.key], (e) => putOff(e, silence, this.now))
      return 'silent'
    }
    if (answer.said === 'no') {
      if (entries.length === 1) return this.putOff(entries[0]!, answer.refusals)
      this.most = Math.max(1, Math.floor(entries.length / 2))
      return 'on'
    }
    const { answers, officeMark, clockOffsetMs } = answer.value
    const verdicts = new Map(answers.map((one) => [one.key, one]))
    await this.keep.change(
      entries.map(({ key }) => key),
      (entry) => {
        const verdict = verdicts.get(entry.key)
        return verdict ? judged(entry, verdict, this.now) : putOff(entry, [], this.now)
      },
    )
    for (const { key } of entries) this.tried.add(key)
    this.decided += answers.filter(({ verdict }) => verdict !== 'later').length
    await this.forget(new Set(entries.map(({ key }) => key)))
    this.most = Math.min(batchLimits.entries, this.most * 2)
    const before = (await this.keep.contact()).officeMark
    const isOlder = before !== null && officeMark < before
    // The lower mark is remembered only when all that is missing was found, or a kill in between would hide it.
    await this.keep.met({ clockOffsetMs, at: this.now.ms(), ...(isOlder ? {} : { officeMark }) })
    return isOlder ? this.askKnown() : 'on'
  }

  /** Takes away what the entries just sent have made needless. */
  private async forget(keys: ReadonlySet<string>): Promise<void> {
    const all = await this.keep.entries()
    const sent = all.filter(({ key, state }) => keys.has(key) && state === 'sent')
    const gone = sent.flatMap((entry) => replacedBy(entry, all))
    if (gone.length > 0) await this.keep.change(gone, () => null)
  }

  /** The next piece of a photo's bytes, from where the office says that it stands. */
  private async sendPiece(entry: KeptEntry): Promise<Step> {
    const sha256 = digestOf(entry)
    const of = await this.keep.sizeOf(sha256)
    if (of === null)
      return this.putOff(entry, [
        refusal('bytes-missing', '', { message: 'The bytes of this photo are not on this device any more.' }),
      ])
    const at = this.uploads.get(sha256)
    const from = at?.received ?? 0
    const piece = at ? await this.keep.piece(sha256, from, Math.min(of, from + this.pieceBytes)) : null
    const answer =
      at && piece ? await this.office.upload(sha256, from, of, piece) : await this.office.uploaded(sha256)
    if (answer.said === 'nothing') return 'silent'
    if (answer.said === 'signed-out') return 'signed-out'
    if (answer.said === 'yes') {
      this.uploads.set(sha256, { ...answer.value, again: at?.again ?? false })
      // An office that takes pieces and never has them all would hold the pass for ever.
      if (!answer.value.whole && at && answer.value.received <= from) return this.putOff(entry, [])
      return 'on'
    }
    if (answer.received !== undefined && answer.received !== from && !at?.again) {
      this.uploads.set(sha256, { received: answer.received, whole: false, again: true })
      return 'on'
    }
    this.uploads.delete(sha256)
    return answer.refusals.some(({ code }) => neverTaken.has(code))
      ? this.refuse(entry, answer.refusals)
      : this.putOff(entry, answer.refusals)
  }

  private async refuse(entry: KeptEntry, refusals: readonly Refusal[]): Promise<Step> {
    await this.keep.change([entry.key], (kept) => ({ ...kept, state: 'refused', refusals }))
    return 'on'
  }

  private async putOff(entry: KeptEntry, refusals: readonly Refusal[]): Promise<Step> {
    this.tried.add(entry.key)
    await this.keep.change([entry.key], (kept) =>
      kept.state === 'waiting' ? putOff(kept, refusals, this.now) : kept,
    )
    return 'on'
  }
}

/** The same bytes would be refused again and again. */
const neverTaken: ReadonlySet<string> = new Set(['file-not-this-format', 'file-empty', 'too-large'])
const digestOf = (entry: KeptEntry): string => (entry.body as { sha256?: string } | null)?.sha256 ?? ''
const silence: Refusal[] = [refusal('unavailable', '', { message: 'The office did not answer to it.' })]
