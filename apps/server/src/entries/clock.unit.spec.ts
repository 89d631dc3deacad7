import { describe, expect, it } from 'vitest'
import { closingExample, visitExample } from '../testing/bodies.ts'
import { putRightMs, withTimesPutRight } from './clock.ts'

const day = 86_400_000
const clock = { madeAt: '2026-11-24T23:30:00Z', byMs: day, timeZone: 'Atlantic/St_Helena' }

describe('times by a clock that is off', () => {
  it('leaves a clock alone that is within two minutes', () => {
    expect([0, 120_000, -120_000, 120_001, -3 * day].map(putRightMs)).toEqual([0, 0, 0, 120_001, -3 * day])
  })

  it('moves every instant of a closing by the offset', () => {
    const closing = closingExample(
      visitExample('5e1d3c2b-7a69-4b58-8c47-9d8e7f6a5b4c', {
        startedAt: '2026-11-24T09:05:00+01:00',
        endedAt: '2026-11-24T09:30:00Z',
      }),
    )
    const { visit, urgentNote, ...rest } = withTimesPutRight('closing', closing, clock)
    expect([visit.startedAt, visit.endedAt]).toEqual(['2026-11-25T08:05:00.000Z', '2026-11-25T09:30:00.000Z'])
    expect([urgentNote, rest.rating]).toEqual([null, closing.rating])
  })

  it('moves a day that was the present one by that clock, and no day that a person chose', () => {
    const on = (day: string) => withTimesPutRight('tree-event', { on: day }, clock).on
    expect([on('2026-11-24'), on('2026-11-20')]).toEqual(['2026-11-25', '2026-11-20'])
    const hourFast = { ...clock, madeAt: '2026-11-25T00:10:00Z', byMs: -3_600_000 }
    expect(withTimesPutRight('failure', { on: '2026-11-25' }, hourFast).on).toBe('2026-11-24')
  })

  it('leaves an instant that no calendar has to be refused for what it is', () => {
    expect(withTimesPutRight('urgent-note', { toldAt: 'noon' }, clock).toldAt).toBe('noon')
  })
})
