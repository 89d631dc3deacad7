import { defaultExposurePolicy, exposurePolicyLimits } from '@underbough/exposure'
import { describe, expect, it } from 'vitest'
import { assumedFields, changedFigures, sayLimits, shownFigure, withFigure } from './assumptionFields.ts'

const fields = assumedFields.flatMap((group) => group.fields)
const leaves = (branch: object, path = ''): string[] =>
  Object.entries(branch).flatMap(([key, value]) =>
    typeof value === 'number' || Array.isArray(value) ? [`${path}${key}`] : leaves(value, `${path}${key}.`),
  )

describe('the assumptions on screen', () => {
  it('are all figures of the policy, each once', () => {
    expect(fields.map(({ path }) => path).sort()).toEqual(leaves(exposurePolicyLimits).sort())
  })
  it('give back what was stored when nothing is changed', () => {
    for (const field of fields)
      expect(
        withFigure(defaultExposurePolicy, field, shownFigure(defaultExposurePolicy, field)),
        field.path,
      ).toEqual(defaultExposurePolicy)
  })
  it('read a share as a percentage, and name what was changed', () => {
    const base = fields.find(({ path }) => path === 'crownBaseShare')!
    expect(shownFigure(defaultExposurePolicy, base)).toBe(30)
    const changed = withFigure(defaultExposurePolicy, base, 12.5)
    expect(changed.crownBaseShare).toBe(0.125)
    expect(changedFigures(defaultExposurePolicy, changed)).toEqual([base])
    expect(sayLimits(base)).toBe('0 to 95')
  })
})
