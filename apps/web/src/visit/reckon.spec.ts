import { lookingSteps } from '@underbough/model'
import { startingPolicy } from '@underbough/rating'
import { describe, expect, it } from 'vitest'
import { newWhole } from '../api/found.ts'
import { answer, type Draft, type Ground, newDraft } from './draft.ts'
import { dueHere, dueOfFound, madeOf } from './reckon.ts'

const tree = {
  id: '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a12',
  tag: '0417',
  owner: null,
  status: 'standing',
  stems: [{ diameterCm: 94, measuredAtM: 1.3 }],
  createdAt: '2026-11-25T08:00:00Z',
} as never
const ground: Ground = {
  whole: newWhole(tree, 'constant'),
  exposure: null,
  organisation: { hemisphere: 'south', failureTimeFrameYears: 3, timeZone: 'Atlantic/St_Helena' },
  policy: startingPolicy,
}
const begun = newDraft(
  ground,
  'p',
  new Date('2026-11-25T09:05:00Z'),
  '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a11',
  '2026-11-25',
)
const seen: Draft = lookingSteps.reduce((d, step) => answer(d, step, 'nothing-found'), begun)
const now = new Date('2026-11-25T09:30:00Z')

describe('the next look, before the office answers', () => {
  it('counts the visit that is being closed, and gives its reason', () => {
    const due = dueHere(ground, seen, now, 0)
    expect(due.known && due.due?.kind).toBe('look')
    expect(due.known && due.due!.on > '2026-11-25').toBe(true)
    expect(due.known && due.due!.reason).toContain('constant target')
  })
  it('dates a tree that nobody has looked at, and one that is gone not at all', () => {
    expect(dueOfFound(ground)).toMatchObject({ kind: 'baseline', policyEdition: startingPolicy.edition })
    const gone = { ...ground.whole, tree: { ...ground.whole.tree, status: 'gone' as const } }
    expect(dueOfFound({ ...ground, whole: gone })).toBeNull()
    expect(dueOfFound({ ...ground, policy: null })).toBeNull()
  })
  it('says that it does not know where the policy is not on this device', () => {
    expect(dueHere({ ...ground, policy: null }, seen, now, 0).known).toBe(false)
  })
  it('puts a wrong clock right by the office’s, and leaves one that is right to two minutes', () => {
    const day = 86_400_000
    expect(madeOf(seen, now, day).visit.startedAt).toBe('2026-11-26T09:05:00.000Z')
    expect(madeOf(seen, now, 90_000).visit.startedAt).toBe('2026-11-25T09:05:00.000Z')
  })
})
