import { expect, it } from 'vitest'
import { questionImpact } from './impact.ts'
import { jointLikelihood, riskOf } from './matrices.ts'

it('refuses shares outside 0 to 1 and words of another list', () => {
  expect(() => questionImpact('low', 1.2, 0.5)).toThrow(RangeError)
  expect(() => questionImpact('low', 0.5, Number.NaN)).toThrow(RangeError)
  expect(() => jointLikelihood('severe' as never, 'low')).toThrow(RangeError)
  expect(() => riskOf('likely', 'high' as never)).toThrow(RangeError)
})
