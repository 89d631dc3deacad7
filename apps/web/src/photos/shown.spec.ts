import { type KeptEntry, waitingEntry } from '@underbough/field'
import type { Photo, PhotoInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { pathOf } from './marks.ts'
import { shownPhotos } from './shown.ts'
import { newsOf } from './useTaking.ts'
import { sayStandings } from './words.ts'

const photo = (id: string, part: Partial<PhotoInput> = {}): PhotoInput => ({
  id,
  ownerKind: 'finding',
  ownerId: 'f',
  sha256: `sha-${id}`,
  bytes: 3,
  takenAt: null,
  position: null,
  caption: '',
  copyOf: null,
  copyKind: null,
  ...part,
})
const entry = (seq: number, body: PhotoInput, part: Partial<KeptEntry> = {}): KeptEntry => ({
  seq,
  ...waitingEntry({
    key: `key-${seq}`,
    kind: 'photo',
    authorId: 'a',
    subjectId: body.id,
    treeId: 't',
    label: '',
    madeAt: '2026-11-25T12:00:00Z',
    clockOffsetMs: null,
    body,
  }),
  ...part,
})
const office = (one: PhotoInput): Photo => ({ ...one, mediaType: 'image/jpeg' })

describe('photos of device and office together', () => {
  it('shows an original once, by its smaller copy, and its marked copies after it', () => {
    const [large, small] = [new Blob(['large']), new Blob(['s'])]
    const shown = shownPhotos(
      [
        entry(1, photo('one')),
        entry(2, photo('two')),
        entry(3, photo('one-small', { copyOf: 'one', copyKind: 'screen' })),
        entry(4, photo('one-marked', { copyOf: 'one', copyKind: 'marked' })),
      ],
      new Map([
        ['sha-one', large],
        ['sha-one-small', small],
      ]),
      [],
    )
    expect(shown.map((one) => one.photo.id)).toEqual(['one', 'one-marked', 'two'])
    expect([shown[0]!.here, shown[0]!.original, shown[2]!.here]).toEqual([small, large, null])
  })

  it('shows what the office has and this device has no more, and each photo once', () => {
    const shown = shownPhotos([entry(1, photo('one'), { state: 'sent' })], new Map(), [
      office(photo('one')),
      office(photo('of-another')),
    ])
    expect(shown.map((one) => [one.photo.id, one.standing])).toEqual([
      ['one', 'at-the-office'],
      ['of-another', 'at-the-office'],
    ])
  })

  it('lets the newest words stand, and is not at the office before they are', () => {
    const waiting = shownPhotos(
      [entry(1, photo('one'), { state: 'sent' }), entry(2, photo('one', { caption: 'the opening' }))],
      new Map(),
      [office(photo('one'))],
    )
    expect([waiting[0]!.photo.caption, waiting[0]!.standing]).toEqual(['the opening', 'on-this-phone'])
  })

  it('counts what is where', () => {
    const refusal = { code: 'unknown', path: '', message: 'No.' } as const
    const shown = shownPhotos(
      [entry(1, photo('one'), { state: 'refused', refusals: [refusal] }), entry(2, photo('two'))],
      new Map(),
      [office(photo('three'))],
    )
    expect(sayStandings(shown)).toBe('3 photos, 1 refused by the office, 1 on this phone, 1 at the office')
    expect(sayStandings(shown.slice(0, 1))).toBe('1 photo, at the office')
  })
})

describe('what came of taking photos', () => {
  it('says a loss before anything else, and never that a lost one is kept', () => {
    const news = newsOf({ kept: 2, uncopied: 1, lost: ['No room.'] })
    expect(news).toMatchObject({ tone: 'refused', title: 'Photo not kept.' })
    expect(news?.words).toBe('No room. 2 photos kept on this phone.')
    expect(newsOf({ kept: 1, uncopied: 1, lost: [] })?.tone).toBe('mind')
    expect(newsOf({ kept: 1, uncopied: 0, lost: [] })?.title).toBe('Photo kept on this phone.')
    expect(newsOf({ kept: 0, uncopied: 0, lost: [] })).toBeNull()
  })
})

describe('a mark', () => {
  it('is an arrow whose barbs lie behind its tip, at equal angles to the shaft', () => {
    const numbers = pathOf({ tool: 'arrow', from: [0, 0.5], to: [1, 0.5] }, 1000, 500)
      .match(/-?[\d.]+/g)!
      .map(Number)
    const [x1, y1, x2, y2, ax, ay, , , bx, by] = numbers as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ]
    expect([x1, y1, x2, y2]).toEqual([0, 250, 1000, 250])
    expect(ax).toBeLessThan(1000)
    expect(bx).toBe(ax)
    expect(by - 250).toBeCloseTo(250 - ay, 6)
  })

  it('is a ring in the box between two places, and can be seen however small the box', () => {
    // SVG 2, 8.3.8: an arc of radii 200 and 100, twice half round, from the left to the right and back.
    expect(pathOf({ tool: 'ring', from: [0.2, 0.2], to: [0.6, 0.6] }, 1000, 500)).toBe(
      'M200 200 A200 100 0 1 1 600 200 A200 100 0 1 1 200 200 Z',
    )
    expect(pathOf({ tool: 'ring', from: [0.5, 0.5], to: [0.5, 0.5] }, 1000, 500)).toContain('A15 15')
  })
})
