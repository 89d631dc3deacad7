import { walkOverInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { newWalk, walkOverOf } from './walk.ts'

const [lime, beech, stump] = [
  '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a11',
  '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a12',
  '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a13',
] as const
const zone = '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a14'

// Common practice, no source: a walk-over says which trees were looked at; one that was not looked at is not named.
describe('the record of a walk-over', () => {
  const walk = newWalk(zone, '2026-11-25', '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a15')
  it('names every tree listed, and a note only where something was written', () => {
    const record = walkOverOf({ ...walk, notes: { [beech]: ' Fresh break. ', [lime]: '  ' } }, [lime, beech])
    expect(record.treeIds).toEqual([lime, beech])
    expect(record.notes).toEqual([{ treeId: beech, note: 'Fresh break.' }])
    expect(walkOverInput.safeParse(record).error).toBeUndefined()
  })
  it('leaves out a tree that was not looked at, with its note', () => {
    const record = walkOverOf({ ...walk, leftOut: [stump], notes: { [stump]: 'Behind the fence.' } }, [
      lime,
      stump,
    ])
    expect(record.treeIds).toEqual([lime])
    expect(record.notes).toEqual([])
  })
})
