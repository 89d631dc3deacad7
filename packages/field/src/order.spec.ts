import { describe, expect, it } from 'vitest'
import { batchOf, sendable, waitsFor } from './order.ts'
import { replacedBy } from './replaced.ts'
import { anEntry } from './testing/entry.ts'

const asked = { now: 1000, authorIds: ['sand'] }
const keys = (list: { key: string }[]) => list.map(({ key }) => key)

const draft = anEntry({ seq: 4, body: { id: 'visit', treeId: 'tree', findings: [{ id: 'finding' }] } })
const note = anEntry({ seq: 5, kind: 'urgent-note', body: { id: 'note', visitId: 'visit' } })
const found = anEntry({ seq: 3, kind: 'found-tree', body: { id: 'tree' } })
const closing = anEntry({
  seq: 9,
  kind: 'closing',
  subjectId: 'other',
  body: { visit: { id: 'other', treeId: 'elsewhere', findings: [] } },
})
const reading = anEntry({ seq: 1, kind: 'reading', body: { id: 'core', visitId: 'visit' } })
const borders = anEntry({ seq: 2, kind: 'borders', body: { probeId: 'core' } })
const photo = anEntry({ seq: 6, kind: 'photo', body: { id: 'p', ownerId: 'finding', sha256: 's' } })

describe('the order of sending', () => {
  it('puts the urgent note first with what it stands on before it, then closings, and each entry after its owner', () => {
    const all = [reading, borders, found, draft, note, photo, closing]
    expect(sendable(all, asked)).toEqual([found, draft, note, closing, reading, borders, photo])
  })

  it('lets what stands on a refused or put-off entry wait, and nothing else', () => {
    const all = [{ ...draft, state: 'refused' as const }, reading, borders, closing]
    expect(sendable(all, asked)).toEqual([closing])
    expect(waitsFor(reading, all)?.key).toBe(draft.key)
    const late = [{ ...draft, nextTryAt: 2000 }, reading, closing]
    expect(sendable(late, asked)).toEqual([closing])
    expect(sendable(late, { ...asked, eager: true })).toHaveLength(3)
    expect(
      sendable(
        [{ ...draft, state: 'sent' as const }, { ...draft, seq: 12, key: 'again', nextTryAt: 2000 }, reading],
        asked,
      ),
    ).toEqual([reading])
  })

  it('does not wait for a time that was set before the clock was put back', () => {
    expect(sendable([{ ...closing, nextTryAt: 86_400_000 }], asked)).toHaveLength(1)
    expect(sendable([{ ...closing, nextTryAt: 301_000 }], asked)).toHaveLength(0)
  })

  it('sends nobody else’s entries, nor what stands on them', () => {
    const all = [{ ...draft, authorId: 'orrin' }, reading, closing]
    expect(sendable(all, asked)).toEqual([closing])
    expect(sendable(all, { ...asked, authorIds: ['sand', 'orrin'] })).toHaveLength(3)
  })

  it('keeps the order in which stops of a day were changed', () => {
    const stops = (['stop-end', 'day-order', 'hand-over', 'stop-added'] as const).map((kind, i) =>
      anEntry({ seq: i + 1, kind, body: {} }),
    )
    expect(sendable([...stops].reverse(), asked)).toEqual(stops)
  })

  it('keeps that order where a tree is found on the way, or a visit closed, in the midst of it', () => {
    const added = anEntry({ seq: 1, kind: 'stop-added', body: { stopId: 'put-on' } })
    const skipped = anEntry({ seq: 2, kind: 'stop-end', body: { stopId: 'put-on', visitId: null } })
    const onDay = anEntry({
      seq: 3,
      kind: 'found-tree',
      body: { id: 'new', stop: { id: 'found', daySheetId: 'day' } },
    })
    const turned = anEntry({ seq: 4, kind: 'day-order', body: { stopIds: ['put-on', 'found'] } })
    const closed = anEntry({ seq: 5, kind: 'closing', body: { visit: { id: 'look', treeId: 'new' } } })
    const ended = anEntry({ seq: 6, kind: 'stop-end', body: { stopId: 'found', visitId: 'look' } })
    const all = [ended, closed, turned, onDay, skipped, added]
    expect(keys(sendable(all, asked))).toEqual(keys([...all].reverse()))
    const elsewhere = anEntry({ seq: 3, kind: 'found-tree', body: { id: 'new', stop: null } })
    expect(sendable([skipped, elsewhere], asked)).toEqual([elsewhere, skipped])
  })

  it('lets neither a found tree nor a closing wait for a change of the day that cannot go', () => {
    const late = anEntry({ seq: 1, kind: 'day-order', body: { stopIds: [] }, nextTryAt: 2000 })
    const onDay = anEntry({ seq: 2, kind: 'found-tree', body: { id: 'new', stop: { id: 'found' } } })
    const closed = anEntry({ seq: 3, kind: 'closing', body: { visit: { id: 'look', treeId: 'tree' } } })
    expect(sendable([late, onDay, closed], asked)).toEqual([onDay, closed])
  })

  it('lets no change of the day go ahead of an urgent note or what that stands on', () => {
    const skipped = anEntry({ seq: 1, kind: 'stop-end', body: { stopId: 'a', visitId: null } })
    const onDay = anEntry({ seq: 2, kind: 'found-tree', body: { id: 'tree', stop: { id: 'found' } } })
    expect(sendable([skipped, onDay, draft, note], asked)).toEqual([onDay, draft, note, skipped])
  })

  it('sends the small copy of a photo ahead of its original', () => {
    const original = anEntry({ seq: 1, kind: 'photo', body: { id: 'a', copyKind: null, copyOf: null } })
    const small = anEntry({ seq: 2, kind: 'photo', body: { id: 'b', copyKind: 'screen', copyOf: 'a' } })
    expect(sendable([original, small], asked)).toEqual([small, original])
  })

  it('does not wait for ever where two entries stand on each other', () => {
    const one = anEntry({ seq: 1, kind: 'photo', body: { id: 'a', ownerId: 'b' } })
    const two = anEntry({ seq: 2, kind: 'photo', body: { id: 'b', ownerId: 'a' } })
    expect(keys(sendable([one, two], asked)).sort()).toEqual(['key-1', 'key-2'])
  })

  it('fills a message up to its limits, and lets a large entry travel alone', () => {
    const many = Array.from({ length: 60 }, (_, i) => anEntry({ seq: i + 1 }))
    expect(batchOf(many)).toHaveLength(50)
    const large = anEntry({ seq: 99, body: { raw: 'x'.repeat(3_000_000) } })
    expect(batchOf([large, ...many])).toEqual([large])
    expect(batchOf([many[0]!, large])).toEqual([many[0]])
  })
})

describe('what a newer entry makes needless', () => {
  const older = anEntry({ seq: 1 })
  it('replaces a waiting draft by a newer one, and every draft by the closing', () => {
    const newer = anEntry({ seq: 2 })
    expect(replacedBy(newer, [older, newer])).toEqual(['key-1'])
    const closed = anEntry({ seq: 3, kind: 'closing' })
    expect(replacedBy(closed, [older, newer, closed])).toEqual(['key-1', 'key-2'])
  })
  it('leaves alone what the office has until the newer one is there too', () => {
    const sent = { ...older, state: 'sent' as const }
    const newer = anEntry({ seq: 2 })
    expect(replacedBy(newer, [sent, newer])).toEqual([])
    expect(replacedBy({ ...newer, state: 'sent' }, [sent])).toEqual(['key-1'])
  })
  it('leaves other visits, other people and a refused closing alone', () => {
    const newer = anEntry({ seq: 5 })
    const others = [
      anEntry({ seq: 1, subjectId: 'another' }),
      anEntry({ seq: 2, authorId: 'orrin' }),
      anEntry({ seq: 3, kind: 'closing', state: 'refused' }),
      anEntry({ seq: 4, kind: 'photo' }),
    ]
    expect(replacedBy(newer, [...others, newer])).toEqual([])
  })
})
