import { describe, expect, it } from 'vitest'
import { exposurePolicyLimits, exposurePolicySchema, readExposurePolicy } from './limits.ts'
import { defaultExposurePolicy } from './policy.ts'

type Branch = { [key: string]: Branch | number }
const leaves = (branch: Branch, path: string[] = []): [string[], number][] =>
  Object.entries(branch).flatMap(([key, value]) =>
    typeof value === 'number' ? [[[...path, key], value]] : leaves(value, [...path, key]),
  )
const withLeaf = (path: string[], value: unknown): unknown => {
  const copy = structuredClone(defaultExposurePolicy) as unknown as Record<string, unknown>
  path.slice(0, -1).reduce((at, key) => at[key] as Record<string, unknown>, copy)[path.at(-1)!] = value
  return copy
}
const all = leaves(defaultExposurePolicy as unknown as Branch)

describe('the limits of what exposure assumes', () => {
  it('hold the starting figures, and take them for what is missing', () => {
    expect(exposurePolicySchema.parse(defaultExposurePolicy)).toEqual(defaultExposurePolicy)
    expect(exposurePolicySchema.parse({})).toEqual(defaultExposurePolicy)
    for (const [path] of all)
      expect(exposurePolicySchema.parse(withLeaf(path, undefined)), path.join('.')).toEqual(
        defaultExposurePolicy,
      )
  })

  it('refuse each figure beyond them, by its path', () => {
    for (const [path] of all) {
      const [least, most] = path.reduce<unknown>(
        (at, key) => (at as Record<string, unknown>)[key],
        exposurePolicyLimits,
      ) as [number, number]
      for (const value of [least - 0.001, most + 0.001, Number.NaN, '1', null]) {
        const read = exposurePolicySchema.safeParse(withLeaf(path, value))
        expect(read.success, `${path.join('.')} ${value}`).toBe(false)
        expect(read.error!.issues.map((issue) => issue.path.join('.'))).toContain(path.join('.'))
      }
    }
  })

  it('refuse a name that is none, and read past it in what was stored', () => {
    const more = { ...defaultExposurePolicy, gravity: 9.81 }
    expect(exposurePolicySchema.safeParse(more).success).toBe(false)
    expect(readExposurePolicy(more)).toEqual(defaultExposurePolicy)
  })

  it('refuse a light roof that carries more than a wall', () => {
    const carriesCm = { masonry: 40, frame: 60, light: 0 }
    const read = exposurePolicySchema.safeParse({ shelter: { carriesCm } })
    expect(read.error!.issues[0]!.path).toEqual(['shelter', 'carriesCm'])
    expect(exposurePolicySchema.safeParse({ shelter: { least: 0.6 } }).success).toBe(false)
  })
})
