import { describe, expect, it } from 'vitest'
import { readList, readMinute, sayMinute, sayWeek } from './hours.ts'

describe('hours of a crew', () => {
  it('reads and says times of the 24-hour clock (ISO 8601 allows 24:00 as the end of a day)', () => {
    expect([readMinute('8'), readMinute('08:30'), readMinute('8.05'), readMinute('24:00')]).toEqual([
      480, 510, 485, 1440,
    ])
    expect([readMinute('24:01'), readMinute('8:60'), readMinute('noon'), readMinute('')]).toEqual([
      null,
      null,
      null,
      null,
    ])
    expect([sayMinute(0), sayMinute(485), sayMinute(1440)]).toEqual(['00:00', '08:05', '24:00'])
  })
  it('says days alike in a row once, and does not join over a day off', () => {
    const long = { fromMinute: 480, toMinute: 960 }
    const short = { fromMinute: 480, toMinute: 780 }
    expect(sayWeek([long, long, long, long, short, null, null])).toBe(
      'Mon to Thu 08:00 to 16:00, Fri 08:00 to 13:00',
    )
    expect(sayWeek([long, null, long, null, null, null, null])).toBe('Mon 08:00 to 16:00, Wed 08:00 to 16:00')
    expect(sayWeek([null, null, null, null, null, null, null])).toBe('no working hours')
  })
  it('reads a list', () => {
    expect(readList(' ladder, , probe ,')).toEqual(['ladder', 'probe'])
  })
})
