import { lookingSteps, visitInput } from '@underbough/model'
import { missingToClose } from '@underbough/rating'
import { describe, expect, it } from 'vitest'
import type { TreeWhole } from '../api/index.ts'
import {
  addFinding,
  addSeconds,
  answer,
  changeFinding,
  couldNotSeeOf,
  type Draft,
  firstOpen,
  newDraft,
  nextStep,
  stepTitle,
  visitOf,
} from './draft.ts'
import { bearingAt, heightAt, topOf } from './PlacePicker.tsx'
import { readBack, screenOf } from './readBack.ts'

const whole = {
  tree: { id: '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a12', tag: '0417', owner: 'Town of Port Maud' },
  due: { level: 2, reason: 'High beside a constant target.' },
  visits: [],
} as unknown as TreeWhole
const fresh = (): Draft =>
  newDraft(
    { whole, exposure: null, organisation: { hemisphere: 'south', failureTimeFrameYears: 3 }, policy: null },
    'p',
    new Date('2026-11-25T09:05:00Z'),
    '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a11',
    '2026-11-25',
  )
const clear = (draft: Draft) => lookingSteps.reduce((d, step) => answer(d, step, 'nothing-found'), draft)
const found = '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a13'

// The order of looking, from outside in, is common practice, no source.
describe('the way through a visit', () => {
  it('goes from the surroundings to the twigs', () => {
    expect(stepTitle('surroundings')).toBe('1 Surroundings')
    expect(stepTitle('twigs-leaves')).toBe('7 Twigs and leaves')
    expect(nextStep('base')).toBe('stem')
    expect(nextStep('twigs-leaves')).toBeNull()
    expect(firstOpen(answer(fresh(), 'surroundings', 'nothing-found'))).toBe('beyond-roots')
    expect(firstOpen(clear(fresh()))).toBeNull()
  })
  it('makes a visit the office takes, and one tap a step is enough to close it', () => {
    const visit = visitOf({ ...clear(fresh()), endedAt: '2026-11-25T09:20:00Z' })
    expect(visitInput.safeParse(visit).error).toBeUndefined()
    expect(missingToClose(visit)).toEqual([])
    expect(visitInput.safeParse(visitOf(fresh())).error).toBeUndefined()
  })
  it('leaves a broken assignment out of a draft instead of being refused for it', () => {
    const draft = fresh()
    expect(visitOf({ ...draft, assignment: { ...draft.assignment, scope: ' ' } }).assignment).toBeNull()
  })
  it('keeps findings only while the step says that something was found', () => {
    const draft = changeFinding(addFinding(fresh(), 'stem', 'Opening', found), found, { heightM: 2.1 })
    expect(draft.answers.stem?.result).toBe('findings')
    expect(visitOf(draft).findings).toMatchObject([{ kind: 'Opening', heightM: 2.1 }])
    expect(visitOf(answer(draft, 'stem', 'nothing-found')).findings).toEqual([])
  })
  it('counts seconds and rounds them only when they leave', () => {
    let draft = answer(fresh(), 'base', 'nothing-found')
    for (let i = 0; i < 10; i++) draft = addSeconds(draft, 'base', 0.3)
    expect(visitOf(draft).steps[0]?.seconds).toBe(3)
  })
  it('says what was not seen from the steps, or in the person’s own words', () => {
    const draft = answer(fresh(), 'twigs-leaves', 'not-seen', 'Against the light')
    expect(couldNotSeeOf(draft)).toBe('Twigs and leaves: Against the light.')
    expect(couldNotSeeOf({ ...draft, couldNotSee: 'The east side.' })).toBe('The east side.')
  })
})

describe('reading back', () => {
  it('names every finding, every gap, and that no rating was made', () => {
    const draft = answer(addFinding(clear(fresh()), 'stem', 'Opening', found), 'base', 'not-seen', 'Ivy')
    const words = readBack(draft, 'M. Orrin', '0417 Beech').map((line) => `${line.screen}: ${line.words}`)
    expect(words).toContain('stem: Stem: Opening.')
    expect(words).toContain('base: Base was not seen: Ivy.')
    expect(words).toContain('rating: No rating is made on this visit; the one in force stays.')
  })
  it('finds the screen of a refusal', () => {
    const screens = [
      'visit.steps.base',
      'visit.assignment',
      'rating.scenarios.0.targets',
      'urgentNote',
      'visit.endedAt',
    ]
    expect(screens.map((path) => screenOf({ path }))).toEqual([
      'base',
      'start',
      'rating',
      'urgent',
      'closing',
    ])
  })
})

describe('a place by tap', () => {
  it('reads bearings clockwise from north, which is up', () => {
    const taps = [
      bearingAt(0, -10),
      bearingAt(10, 0),
      bearingAt(0, 10),
      bearingAt(-10, 0),
      bearingAt(10, -10),
    ]
    expect(taps).toEqual([0, 90, 180, 270, 45])
  })
  it('reads heights from the ground line up and never beyond the drawing', () => {
    expect([heightAt(190, 4), heightAt(12, 4), heightAt(101, 4), heightAt(-50, 4), heightAt(400, 4)]).toEqual(
      [0, 4, 2, 4, 0],
    )
    expect(topOf('crown', { heightM: 24.5, crownBaseHeightM: 5.2 })).toBe(25)
    expect(topOf('stem', { heightM: 3, crownBaseHeightM: null })).toBe(3)
  })
})
