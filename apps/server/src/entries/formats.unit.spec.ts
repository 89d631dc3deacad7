import { entryBodies, entryEnvelope } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { upgraded, upgradedEnvelope } from './formats.ts'

// Bodies as the first two forms wrote them, word for word.
const visitOfForm1 = `{"id":"0b7e5f0a-8d52-4f0e-9a10-1f2f3c4d5e6f","treeId":"5e1d3c2b-7a69-4b58-8c47-9d8e7f6a5b4c","level":2,
"startedAt":"2026-10-20T09:05:00Z","endedAt":null,"weather":"dry","leafState":"in-leaf","assignment":null,
"steps":[{"step":"base","result":"nothing-found","notSeenBecause":null,"seconds":40}],"findings":[],"couldNotSee":"","positionAccuracyM":null}`
const photoOfForm2 = `{"id":"9c1f2e3d-4b5a-4697-8877-665544332211","ownerKind":"visit","ownerId":"0b7e5f0a-8d52-4f0e-9a10-1f2f3c4d5e6f",
"sha256":"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855","bytes":13,"takenAt":null,"position":null,"caption":""}`

describe('entries of older forms', () => {
  it('says of a step of form 1 that its accuracy is not known', () => {
    const visit = JSON.parse(visitOfForm1)
    expect(upgraded(1, 'visit-draft', visit)).toMatchObject({ steps: [{ step: 'base', accuracyM: null }] })
    expect(upgraded(1, 'closing', { visit, rating: null })).toMatchObject({
      visit: { steps: [{ seconds: 40, accuracyM: null }] },
      rating: null,
    })
    expect(entryBodies['visit-draft'].parse(upgraded(1, 'visit-draft', visit)).steps[0]!.accuracyM).toBeNull()
  })

  it('says of a photo of form 1 or 2 that it is an original', () => {
    for (const format of [1, 2])
      expect(entryBodies.photo.parse(upgraded(format, 'photo', JSON.parse(photoOfForm2)))).toMatchObject({
        copyOf: null,
        copyKind: null,
      })
  })

  it('reads an envelope of form 1 without the offset of a clock', () => {
    const envelope = {
      key: '11111111-2222-4333-8444-555555555555',
      kind: 'failure',
      authorId: 'inspector-1',
      madeAt: '2026-10-20T09:05:00Z',
      body: {},
    }
    expect(entryEnvelope.safeParse(envelope).success).toBe(false)
    expect(entryEnvelope.parse(upgradedEnvelope(1, envelope)).clockOffsetMs).toBeNull()
    expect(upgradedEnvelope(2, envelope)).toBe(envelope)
  })

  it('leaves the present form and what is no record as they are', () => {
    const body = { visit: 'none', steps: 4 }
    expect(upgraded(4, 'closing', body)).toBe(body)
    expect(upgraded(3, 'closing', body)).toBe(body)
    for (const odd of [null, 'x', 7, [], { visit: 'none' }, { steps: 4 }, { steps: [null, 3] }])
      for (const kind of ['closing', 'visit-draft', 'photo'])
        expect(() => upgraded(1, kind, odd)).not.toThrow()
  })
})
