import { failureInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { type FailureDraft, failureOf, saySum } from './failure.ts'

const id = '0b7c0a52-6ad9-4a0e-9f0e-6f2f3f3c9f10'
const draft = (change: Partial<FailureDraft> = {}): FailureDraft => ({
  id,
  treeId: id,
  place: { lon: null, lat: null },
  where: 'tree',
  on: '2026-11-20',
  part: 'limb',
  gustMps: null,
  hit: '',
  nearMiss: false,
  note: '',
  ...change,
})
const paths = (change: Partial<FailureDraft>) => {
  const read = failureOf(draft(change), '2026-11-25')
  return 'refusals' in read ? read.refusals.map((r) => r.path) : 'kept'
}

describe('a failure as it is written down', () => {
  it('becomes a record of the model', () => {
    const read = failureOf(draft(), '2026-11-25')
    expect('input' in read && failureInput.safeParse(read.input).success).toBe(true)
    const placed = failureOf(draft({ where: 'place', place: { lon: -8.25, lat: -31.67 } }), '2026-11-25')
    expect('input' in placed && placed.input).toMatchObject({ treeId: null, place: [-8.25, -31.67] })
  })
  it('names what is missing, all at once', () => {
    expect(paths({ treeId: null, part: null, on: '' })).toEqual(['treeId', 'part', 'on'])
    expect(paths({ where: 'place', place: { lon: -8.25, lat: null } })).toEqual(['place'])
    expect(paths({ where: 'place', place: { lon: -8.25, lat: -91 } })).toEqual(['place'])
    expect(paths({ on: '2026-11-26' })).toEqual(['on'])
    expect(paths({ on: '2026-11-25' })).toBe('kept')
  })
  it('says a sum in words', () => {
    const of = (nearMiss: boolean, hit = '') => ({ nearMiss, hit })
    expect(saySum([of(false, 'a bench'), of(false), of(true, 'nearly a person')])).toBe(
      '2 failures, 1 of which hit something; 1 near miss.',
    )
    expect(saySum([of(true), of(true)])).toBe('0 failures; 2 near misses.')
  })
})
