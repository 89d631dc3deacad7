import type { EntryAnswer } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { drain, type Wish } from './drain.ts'
import type { Office } from './ports.ts'
import { keptAfterSendingMs, keptWhenShortMs, shortOfRoom, toClear } from './retention.ts'
import { anEntry } from './testing/entry.ts'
import { MemoryOffice } from './testing/office.ts'
import { Phone } from './testing/phone.ts'
import { faultyWay, Life } from './testing/way.ts'
import { judged, nextTry, putOff } from './verdicts.ts'

let ms = 1_000_000
const now = { ms: () => ms, chance: () => 0.5 }
const wish: Wish = { authorIds: ['sand'], pieceBytes: 16 }
const none = { kind: 'none' } as const
const ground = () => {
  const office = new MemoryOffice(['tree'])
  const phone = new Phone('phone', 0, 'sand')
  const life = new Life(none)
  const way = faultyWay(office, none, life, () => ms, [])
  return { office, phone, way, keep: phone.keep(life) }
}
const visit = (phone: Phone, id: string, part: object = {}) =>
  phone.enter('visit-draft', id, { id, treeId: 'tree', word: id, findings: [], ...part }, `draft-${id}`, ms)

describe('a pass', () => {
  it('sends a photo’s bytes in pieces before it, and everything in one order without a single “later”', async () => {
    const { office, phone, way, keep } = ground()
    visit(phone, 'visit')
    phone.enter('reading', 'core', { id: 'core', visitId: 'visit', word: 'core' }, 'r', ms)
    phone.files.set('sha', { bytes: Uint8Array.from({ length: 100 }, (_, i) => i), keptAt: ms })
    phone.enter('photo', 'p', { id: 'p', ownerId: 'core', sha256: 'sha' }, 'p', ms)
    const said: EntryAnswer[] = []
    let pieces = 0
    const watched: Office = {
      ...way,
      batch: async (input) => {
        const answer = await way.batch(input)
        if (answer.said === 'yes') said.push(...answer.value.answers)
        return answer
      },
      upload: (...args) => {
        pieces += 1
        return way.upload(...args)
      },
    }
    expect(await drain(keep, watched, now, wish)).toMatchObject({
      ended: 'done',
      decided: 3,
      nextTryAt: null,
    })
    expect(said.map(({ key, verdict }) => `${key} ${verdict}`)).toEqual([
      'draft-visit taken',
      'r taken',
      'p taken',
    ])
    expect(pieces).toBe(7)
    expect(office.state.files.sha).toEqual([...phone.files.get('sha')!.bytes])
  })

  it('goes past an entry that the office cannot digest, and past one that breaks the whole message', async () => {
    const { phone, way, keep } = ground()
    visit(phone, 'a', { poison: true })
    visit(phone, 'b')
    visit(phone, 'c')
    const breaks: Office = {
      ...way,
      batch: async (input) =>
        input.entries.some(({ key }) => key === 'draft-b')
          ? { said: 'no', status: 500, refusals: [] }
          : way.batch(input),
    }
    const ended = await drain(keep, breaks, now, wish)
    expect(phone.entries.map(({ state }) => state)).toEqual(['waiting', 'waiting', 'sent'])
    expect(phone.entries[0]!.refusals[0]?.code).toBe('internal-fault')
    expect(ended.nextTryAt).toBe(ms + 2000)
  })

  it('takes smaller messages after silences, so that an entry that breaks the way is found and steps back', async () => {
    const { phone, way, keep } = ground()
    visit(phone, 'a')
    visit(phone, 'b')
    const breaks: Office = {
      ...way,
      batch: async (input) =>
        input.entries.some(({ key }) => key === 'draft-a') ? { said: 'nothing' } : way.batch(input),
    }
    for (let silences = 0; silences < 8; silences++) await drain(keep, breaks, now, { ...wish, silences })
    expect(phone.entries.map(({ state }) => state)).toEqual(['waiting', 'sent'])
  })

  it('stops at silence and at a closed door, and changes nothing', async () => {
    for (const said of ['nothing', 'signed-out'] as const) {
      const { phone, way, keep } = ground()
      visit(phone, 'a')
      visit(phone, 'b')
      const before = structuredClone(phone.entries)
      let asked = 0
      const batch = async () => {
        asked++
        return { said }
      }
      const ended = await drain(keep, { ...way, batch }, now, wish)
      expect([ended.ended, asked]).toEqual([said === 'nothing' ? 'silent' : said, 1])
      expect(phone.entries).toEqual(before)
    }
  })

  it('gives an office set back to a copy what it lost, as soon as its mark is lower', async () => {
    const { office, phone, way, keep } = ground()
    const copy = office.copy()
    visit(phone, 'a')
    visit(phone, 'b')
    await drain(keep, way, now, wish)
    expect(Object.keys(office.state.visits)).toEqual(['a', 'b'])
    office.state = copy
    visit(phone, 'c')
    await drain(keep, way, now, wish)
    expect(Object.keys(office.state.visits).sort()).toEqual(['a', 'b', 'c'])
  })

  it('forgets drafts that the office has once their visit is closed there', async () => {
    const { phone, way, keep } = ground()
    visit(phone, 'a')
    await drain(keep, way, now, wish)
    phone.enter('closing', 'a', { visit: { id: 'a', treeId: 'tree', findings: [] } }, 'closing', ms)
    expect(phone.entries).toHaveLength(2)
    await drain(keep, way, now, wish)
    expect(phone.entries.map(({ key }) => key)).toEqual(['closing'])
  })

  it('does not send a file again that the office never takes', async () => {
    const { phone, way, keep } = ground()
    phone.files.set('sha', { bytes: new Uint8Array(20), keptAt: ms })
    phone.enter('photo', 'p', { id: 'p', ownerId: 'a', sha256: 'sha' }, 'p', ms)
    const refusals = [{ code: 'file-not-this-format' as const, path: '', message: 'No picture.' }]
    await drain(keep, { ...way, upload: async () => ({ said: 'no', status: 400, refusals }) }, now, wish)
    expect(phone.entries[0]).toMatchObject({ state: 'refused', refusals })
  })

  it('says so where a photo’s bytes are gone, and sends the rest', async () => {
    const { phone, way, keep } = ground()
    visit(phone, 'a')
    phone.enter('photo', 'p', { id: 'p', ownerId: 'a', sha256: 'gone' }, 'p', ms)
    await drain(keep, way, now, wish)
    expect(phone.entries.map(({ state }) => state)).toEqual(['sent', 'waiting'])
    expect(phone.entries[1]!.refusals[0]?.code).toBe('bytes-missing')
  })
})

describe('verdicts', () => {
  const answer = (part: Partial<EntryAnswer>): EntryAnswer => ({
    key: 'key-1',
    verdict: 'taken',
    again: false,
    refusals: [],
    answer: null,
    ...part,
  })
  it('doubles the wait from 2 s to 5 min, a quarter earlier or later', () => {
    const at = (tries: number, chance: number) => nextTry(tries, { ms: () => 0, chance: () => chance })
    expect([1, 2, 3, 8, 9, 60].map((tries) => at(tries, 0.5))).toEqual([
      2000, 4000, 8000, 256_000, 300_000, 300_000,
    ])
    expect([at(1, 0), at(9, 1)]).toEqual([1500, 375_000])
  })
  it('keeps both versions’ mark, the reasons of a refusal, and what was taken against a late no', () => {
    expect(judged(anEntry({}), answer({ verdict: 'beside' }), now)).toMatchObject({
      state: 'sent',
      beside: true,
    })
    const refusals = [{ code: 'out-of-range', path: 'visit.level', message: 'No.' }]
    const no = answer({ verdict: 'refused', refusals })
    expect(judged(anEntry({}), no, now)).toMatchObject({ state: 'refused', refusals })
    const sent = anEntry({ state: 'sent', sentAt: 5 })
    expect(judged(sent, no, now)).toBe(sent)
  })
  it.each([
    ['entry-format-unknown', ''],
    ['entry-kind-unknown', 'kind'],
    ['forbidden', 'authorId'],
  ])('lets an entry wait that its person cannot mend: %s', (code, path) => {
    const no = answer({ verdict: 'refused', refusals: [{ code, path, message: 'No.' }] })
    expect(judged(anEntry({}), no, now).state).toBe('waiting')
  })
  it('says the words of a code that it does not know', () => {
    const refusals = [{ code: 'of-a-newer-office', path: '', message: 'New words.' }]
    const entry = judged(anEntry({}), answer({ verdict: 'refused', refusals }), now)
    expect(entry.refusals).toEqual([{ code: 'malformed', path: '', message: 'New words.' }])
  })
})

describe('what may be cleared', () => {
  const sent = (seq: number, sentAt: number) =>
    anEntry({ seq, kind: 'photo', body: { sha256: `sha-${seq}` }, state: 'sent', sentAt })
  const files = [1, 2, 3].map((n) => ({ sha256: `sha-${n}`, keptAt: 0 }))
  it('keeps what was sent for a week, or a day where room is short, and never what waits', () => {
    ms = 10 * keptAfterSendingMs
    const all = [
      sent(1, ms - keptAfterSendingMs - 1),
      sent(2, ms - keptWhenShortMs - 1),
      putOff(anEntry({ seq: 3, kind: 'photo', body: { sha256: 'sha-3' } }), [], now),
    ]
    expect(toClear(all, files, { now: ms, isShort: false })).toEqual({ keys: ['key-1'], files: ['sha-1'] })
    expect(toClear(all, files, { now: ms, isShort: true })).toEqual({
      keys: ['key-1', 'key-2'],
      files: ['sha-1', 'sha-2'],
    })
  })
  it('leaves a file alone whose entry is about to be made', () => {
    expect(toClear([], [{ sha256: 's', keptAt: ms - 5 }], { now: ms, isShort: true }).files).toEqual([])
  })
  it('warns below 200 MB or a tenth, whichever is more', () => {
    expect(shortOfRoom(0, 250_000_000)).toBe(false)
    expect(shortOfRoom(60_000_000, 250_000_000)).toBe(true)
    expect(shortOfRoom(9_100_000_000, 10_000_000_000)).toBe(true)
    expect(shortOfRoom(8_900_000_000, 10_000_000_000)).toBe(false)
  })
})
