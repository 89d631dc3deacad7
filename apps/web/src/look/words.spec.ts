import { describe, expect, it } from 'vitest'
import { count, sayDate, sayDay, sayLength, sayOrdinal, sayPeople } from './words.ts'

// Days of the week from the ISO 8601 calendar; English numerals and plurals: common practice, no source.
describe('words for figures', () => {
  it('says days', () => {
    expect(sayDay('2026-12-01')).toBe('Tue 1 Dec')
    expect(sayDate('2026-05-03')).toBe('3 May 2026')
    expect(sayDate('2026-05-03', true)).toBe('3 May')
  })
  it('says lengths as a person would', () => {
    expect([1, 13, 22, 148, 200, 800].map(sayLength)).toEqual([
      '1 day',
      '13 days',
      '3 weeks',
      '21 weeks',
      '7 months',
      '2 years',
    ])
    expect(sayLength(-7)).toBe('7 days')
  })
  it('says people without a bare zero for a small number', () => {
    expect([0, 0.001, 0.04, 0.9, 2.14, 13.2].map(sayPeople)).toEqual([
      '0',
      'under 0.01',
      '0.04',
      '0.9',
      '2.1',
      '13',
    ])
  })
  it('counts and orders', () => {
    expect([count(1, 'tree'), count(1906, 'tree')]).toEqual(['1 tree', '1,906 trees'])
    expect([1, 3, 11, 12, 21, 22, 37, 103].map(sayOrdinal)).toEqual([
      'first',
      'third',
      '11th',
      '12th',
      '21st',
      '22nd',
      '37th',
      '103rd',
    ])
  })
})
