import 'fake-indexeddb/auto'
import type { BatchInput } from '@underbough/model'
import { beforeEach, describe, expect, it, vi } from 'vitest'
import { device, enter } from './device.ts'
import { onTaken, sendNow } from './sender.ts'
import { keepState } from './state.ts'

vi.stubGlobal('navigator', { locks: undefined, storage: undefined })

const person = { me: { personId: 'sand', role: 'inspector' } }
const office = {
  who: [200, person] as [number, unknown],
  batches: [] as BatchInput[],
  silent: false,
}
const json = (status: number, body: unknown) =>
  new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json' } })
vi.stubGlobal('fetch', async (path: string, init: RequestInit) => {
  if (office.silent) throw new TypeError('no network')
  if (path === '/api/session') return json(...office.who)
  const input = JSON.parse(String(init.body ?? '{}'))
  if (path === '/api/entries/known') return json(200, { missing: [], officeMark: 1 })
  office.batches.push(input)
  return json(200, {
    officeNow: '2026-11-25T08:00:00Z',
    clockOffsetMs: 4200,
    officeMark: 1,
    answers: (input as BatchInput).entries.map(({ key }) => ({
      key,
      verdict: 'taken',
      again: false,
      refusals: [],
      answer: null,
    })),
  })
})

const failure = (authorId: string) =>
  enter('failure', { id: crypto.randomUUID() } as never, {
    authorId,
    subjectId: crypto.randomUUID(),
    treeId: 'tree',
    label: 'Failure',
  })
const states = async () =>
  (await device.entries.toArray()).map(({ authorId, state }) => `${authorId} ${state}`)

beforeEach(async () => {
  await Promise.all(device.tables.map((table) => table.clear()))
  Object.assign(office, { who: [200, person], batches: [], silent: false })
})

describe('sending', () => {
  it('sends what this person entered and leaves alone what others left here', async () => {
    const told = vi.fn()
    const stop = onTaken(told)
    await failure('sand')
    await failure('orrin')
    await sendNow()
    stop()
    expect(await states()).toEqual(['sand sent', 'orrin waiting'])
    expect(told).toHaveBeenCalledTimes(1)
    expect((await device.remembered.get('clockOffsetMs'))!.value).toBe(4200)
  })

  it('sends others’ entries at an officer’s word, and at nobody else’s', async () => {
    await failure('orrin')
    await sendNow({ others: ['orrin'] })
    expect(await states()).toEqual(['orrin waiting'])
    office.who = [200, { me: { personId: 'pell', role: 'officer' } }]
    await sendNow()
    expect(await states()).toEqual(['orrin waiting'])
    await sendNow({ others: ['orrin'] })
    expect(await states()).toEqual(['orrin sent'])
    expect(office.batches[0]!.entries[0]!.authorId).toBe('orrin')
  })

  it('stops at a closed door, says so, and loses nothing', async () => {
    await failure('sand')
    office.who = [401, {}]
    await sendNow()
    expect([keepState().signedOut, await states()]).toEqual([true, ['sand waiting']])
    office.who = [200, person]
    await sendNow()
    expect([keepState().signedOut, await states()]).toEqual([false, ['sand sent']])
  })

  it.each([
    ['no answer', () => Object.assign(office, { silent: true })],
    ['the page of a guest network', () => Object.assign(office, { who: [200, 'Welcome'] })],
    ['a gateway', () => Object.assign(office, { who: [502, {}] })],
  ])('takes %s for silence and tries again later', async (_, befall) => {
    await failure('sand')
    befall()
    await sendNow()
    expect(await states()).toEqual(['sand waiting'])
    expect(keepState().nextTryAt).toBeGreaterThan(Date.now())
  })

  it('gives what nobody is known to have entered to whoever signs in', async () => {
    await failure('not known')
    await sendNow()
    expect(await states()).toEqual(['sand sent'])
  })
})
