import { type LookingStep, lookingSteps } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import type { Draft, Screen } from './draft.ts'
import { wentTo } from './screen.ts'

const rating = (overrideRisk: 'extreme' | 'high') =>
  ({ overrideRisk, scenarios: [] }) as unknown as Draft['rating']
const draft = (part: Partial<Draft>): Draft =>
  ({
    assignment: { level: 2 },
    screen: 'rating',
    rating: null,
    leaveRating: false,
    urgentNote: null,
    ...part,
  }) as Draft
const screens: Screen[] = ['start', ...(lookingSteps as readonly LookingStep[]), 'works', 'closing', 'urgent']

describe('while extreme risk stands and nobody was told', () => {
  it.each(screens)('a press that leads to %s leads to the urgent note', (to) => {
    expect(wentTo(draft({ rating: rating('extreme') }), to)).toMatchObject({
      screen: 'urgent',
      urgentFrom: 'rating',
    })
  })
  it('the words can still be taken back, and then the way is open', () => {
    const back = wentTo(draft({ screen: 'urgent', rating: rating('extreme') }), 'rating')
    expect(back.screen).toBe('rating')
    expect(wentTo({ ...back, rating: rating('high') }, 'works').screen).toBe('works')
  })
  it('a draft taken up again at another screen stands at the note', () => {
    const left = draft({ screen: 'base', rating: rating('extreme') })
    expect(wentTo(left, left.screen).screen).toBe('urgent')
  })
})

it('lets everything go its way once the note is written, and remembers where a voluntary one was begun', () => {
  const written = draft({ rating: rating('extreme'), urgentNote: {} as Draft['urgentNote'] })
  for (const to of screens) expect(wentTo(written, to).screen).toBe(to)
  expect(wentTo(draft({ screen: 'root-zone' }), 'urgent')).toMatchObject({
    screen: 'urgent',
    urgentFrom: 'root-zone',
  })
})
