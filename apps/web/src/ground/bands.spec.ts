import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bandsOf, dayMeans, hoursOf } from './bands.ts'

// A school’s day: by hand, from the words “working days from 8 to 16, 300 people”.
describe('bands of hours', () => {
  const school = hoursOf([{ days: 'working', fromHour: 8, toHour: 16, value: 300 }])

  it('fill the hours they name and no other', () => {
    expect(school.filter((v) => v === 300)).toHaveLength(5 * 8)
    expect([school[7], school[8], school[15], school[16]]).toEqual([0, 300, 300, 0])
    expect(school.slice(120).every((v) => v === 0)).toBe(true)
  })

  it('come back as they were said', () => {
    expect(bandsOf(school)).toEqual({
      bands: [{ days: 'working', fromHour: 8, toHour: 16, value: 300 }],
      exact: true,
    })
    const everyDay = { days: 'all' as const, fromHour: 0, toHour: 24, value: 2 }
    expect(bandsOf(hoursOf([everyDay])).bands).toEqual([everyDay])
  })

  it('say when days of one kind differ, and keep their mean', () => {
    const friday = [...school]
    for (let h = 8; h < 16; h++) friday[4 * 24 + h] = 0
    expect(bandsOf(friday).exact).toBe(false)
    expect(dayMeans(friday, 'working')[9]).toBeCloseTo(240)
  })

  it('say any two kinds of day without loss', () => {
    const day = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 24, maxLength: 24 })
    fc.assert(
      fc.property(day, day, (working, weekend) => {
        const hours = [...Array(5).fill(working), weekend, weekend].flat() as number[]
        const { bands, exact } = bandsOf(hours)
        expect(exact).toBe(true)
        expect(hoursOf(bands)).toEqual(hours)
      }),
    )
  })
})
