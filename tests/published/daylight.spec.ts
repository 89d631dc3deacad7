import { addDays, type Position } from '@underbough/model'
import { Body, Observer, SearchRiseSet } from 'astronomy-engine'
import { describe, expect, it } from 'vitest'
import { daylightOf, lightEndsMinute } from '../../apps/web/src/today/daylight.ts'

/*
 * Sunrise and sunset as almanacs define them: the sun's centre 50′ below the horizon (34′ refraction, 16′ radius). The judge is
 * astronomy-engine (MIT), which computes the sun from VSOP87 and shares no code with what the page uses.
 */
const places: [name: string, place: Position][] = [
  ['the equator', [0, 0]],
  ['31.67° S, mid-ocean', [-8.25, -31.67]],
  ['51.5° N', [-0.13, 51.5]],
  ['60° N, east', [151, 60]],
  ['45° S, by the date line', [170.5, -45.9]],
]

describe('light at the site', () => {
  it.each(places)(
    'rises and sets within two minutes of an independent computation, a year through: %s',
    (_, place) => {
      const observer = new Observer(place[1], place[0], 0)
      let worst = 0
      for (let day = 0; day < 366; day++) {
        const date = addDays('2026-01-01', day)
        const light = daylightOf(date, place)
        const noon = Date.parse(`${date}T12:00:00Z`) - (place[0] / 15) * 3_600_000
        const rise = SearchRiseSet(Body.Sun, observer, 1, new Date(noon - 12 * 3_600_000), 1)!.date
        const set = SearchRiseSet(Body.Sun, observer, -1, new Date(noon), 1)!.date
        worst = Math.max(worst, Math.abs(+light.rise! - +rise), Math.abs(+light.set! - +set))
      }
      expect(worst / 60_000).toBeLessThan(2)
    },
  )

  it('agrees with printed almanacs to two minutes', () => {
    // London, 21 June 2026: sunset 21:21 BST; 21 December 2026: sunset 15:53 GMT. Almanac figures from memory.
    const evening = (date: string) => lightEndsMinute(daylightOf(date, [-0.1276, 51.5072]), 'Europe/London')!
    expect(Math.abs(evening('2026-06-21') - (21 * 60 + 21))).toBeLessThanOrEqual(2)
    expect(Math.abs(evening('2026-12-21') - (15 * 60 + 53))).toBeLessThanOrEqual(2)
  })

  it('says where the sun stays up or down: midsummer and midwinter at 70° N (common knowledge)', () => {
    expect(daylightOf('2026-06-21', [25, 70])).toEqual({ rise: null, set: null, all: 'day' })
    expect(daylightOf('2026-12-21', [25, 70]).all).toBe('night')
    expect(lightEndsMinute(daylightOf('2026-06-21', [25, 70]), 'UTC')).toBeNull()
    expect(lightEndsMinute(daylightOf('2026-12-21', [25, 70]), 'UTC')).toBe(0)
  })
})
