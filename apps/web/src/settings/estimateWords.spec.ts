import { describe, expect, it } from 'vitest'
import { decadesOver } from './EstimateBar.tsx'
import { sayBand, sayChance, sayExpected, saySpan } from './estimateWords.ts'

describe('figures that are ranges', () => {
  it('are said to one figure, so that none looks finer than it is', () => {
    expect([3.2, 0.95, 0.05, 0.0123, 3e-6].map(sayExpected)).toEqual([
      '3 a year',
      '1 a year',
      'once in 20 years',
      'once in 80 years',
      'once in 300,000 years',
    ])
    expect([2.4e-4, 1e-6, 0.7, 0].map(sayChance)).toEqual([
      '1 in 4,000',
      '1 in 1,000,000',
      'more than 1 in 2',
      'none',
    ])
    expect(saySpan({ least: 1e-6, most: 1e-4 }, sayChance)).toBe('1 in 1,000,000 to 1 in 10,000')
    expect(saySpan({ least: 1e-6, most: 1.01e-6 }, sayChance)).toBe('1 in 1,000,000')
    expect(sayBand({ from: 1e-5, to: 1e-3 })).toBe('0.001 % to 0.1 %')
  })

  it('lie on an axis of whole decades that holds them', () => {
    const axis = (values: number[]) => {
      const { from, to } = decadesOver(values)
      return [Math.log10(from), Math.log10(to)].map((n) => Number(n.toFixed(9)))
    }
    expect(axis([2e-6, 3e-3])).toEqual([-6, -2])
    expect(axis([1e-6, 1e-4])).toEqual([-6, -4])
    expect(axis([0.5, 0.6])).toEqual([-1, 1])
    expect(axis([0])).toEqual([-2, 0])
  })
})
