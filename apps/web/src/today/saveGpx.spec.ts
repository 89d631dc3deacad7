import { describe, expect, it } from 'vitest'
import type { Stop } from '../api/index.ts'
import type { Filled } from './dayHere.ts'
import { gpxOf } from './saveGpx.ts'

const stop = (tag: string, more: Partial<Stop> = {}) =>
  ({
    id: tag,
    tree: { tag, species: 'Tilia', commonName: 'Lime', position: [-8.25, -31.67], overdueDays: 0, due: null },
    arriveMinute: 545,
    level: 2,
    doneVisitId: null,
    skippedBecause: null,
    addedBecause: null,
    handedFrom: null,
    ...more,
  }) as unknown as Stop

describe('the day as a file', () => {
  it('names every stop, and leads on through those that are open to the end of the day', () => {
    const text = gpxOf(
      {
        date: '2026-11-25',
        crew: { name: 'Crew B', end: [-8.24, -31.66] },
        daySheet: { stops: [stop('0417', { doneVisitId: 'v' }), stop('0421')] },
      } as unknown as Filled,
      '2026-11-25T12:00:00Z',
    )
    const names = (element: string) =>
      [...text.matchAll(new RegExp(`<${element} [^>]*>\\s*<name>([^<]*)`, 'g'))].map((m) => m[1])
    expect(names('wpt')).toEqual(['0417 Lime', '0421 Lime'])
    expect(names('rtept')).toEqual(['0421 Lime', 'End of the day'])
    expect(text).toContain('<desc>9:05, Basic</desc>')
  })
})
