import { lookingSteps, visitInput } from '@underbough/model'
import type { PortraitTree } from '@underbough/pictures'
import { type DueDecision, missingToClose } from '@underbough/rating'
import { describe, expect, it } from 'vitest'
import type { TreeWhole } from '../api/index.ts'
import {
  addAccuracy,
  addFinding,
  addSeconds,
  answer,
  answerRest,
  changeFinding,
  couldNotSeeOf,
  type Draft,
  firstOpen,
  newDraft,
  nextStep,
  stepTitle,
  visitOf,
} from './draft.ts'
import { bearingAt, crownPlan, heightAt, pinX, sheetOf, topOf } from './place.ts'
import { type Around, readBack, screenOf } from './readBack.ts'
import { wentTo } from './screen.ts'

const whole = {
  tree: { id: '6a1c1f0e-37a5-4f6e-9f0b-0d3d7d4e8a12', tag: '0417', owner: 'Town of Port Maud' },
  due: { level: 2, reason: 'High beside a constant target.' },
  visits: [],
} as unknown as TreeWhole
const fresh = (): Draft =>
  newDraft(
    {
      whole,
      exposure: null,
      organisation: { hemisphere: 'south', failureTimeFrameYears: 3, timeZone: 'Atlantic/St_Helena' },
      policy: null,
    },
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
    const slip = answer(draft, 'stem', 'nothing-found')
    expect(visitOf(slip).findings).toEqual([])
    expect(visitOf(answer(slip, 'stem', 'findings')).findings).toMatchObject([{ heightM: 2.1 }])
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
  const around: Around = {
    personName: 'M. Orrin',
    treeName: '0417 Beech',
    qualification: 'Your qualification: Basic looks.',
    photos: 3,
    readings: { handedIn: 1, begun: 1 },
    due: { known: false },
    clockOffsetMs: 0,
  }
  const saidOf = (draft: Draft, part: Partial<Around> = {}) =>
    readBack(draft, { ...around, ...part }).map((line) => `${line.screen}: ${line.words}`)
  it('counts photos and readings, and says qualification, position, due date and a clock that is wrong', () => {
    const due = { on: '2027-11-25', kind: 'look', reason: 'Low where targets are rare.' } as DueDecision
    const words = saidOf(addAccuracy(clear(fresh()), ['base'], 4), {
      due: { known: true, due },
      clockOffsetMs: -3_600_000,
    }).join('\n')
    for (const part of [
      '3 photos and 1 reading. 1 reading begun and not handed in.',
      'Your qualification: Basic looks.',
      'The position was known within 4 m at best.',
      'Low where targets are rare.',
      '60 minutes fast',
      'No works are proposed.',
    ])
      expect(words).toContain(part)
    expect(saidOf(fresh(), { clockOffsetMs: null }).join()).toContain('has not compared its clock')
    expect(saidOf(fresh()).join()).toContain('The position was not known')
  })
  it('names every finding, every gap, and that no rating was made', () => {
    const draft = answer(addFinding(clear(fresh()), 'stem', 'Opening', found), 'base', 'not-seen', 'Ivy')
    const words = saidOf(draft)
    expect(words).toContain('stem: Stem: Opening, not placed.')
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
  const beech: PortraitTree = {
    heightM: 24.5,
    crownBaseHeightM: 5.2,
    crownRadiiM: { n: 7.2, e: 9.1, s: 8.4, w: 5.6 },
    lean: null,
    stems: [{ diameterCm: 94, measuredAtM: 1.3 }],
    species: 'Fagus sylvatica',
    commonName: 'Beech',
    status: 'standing',
    group: null,
  }
  it('reads heights to scale from the ground line up and never beyond the drawing', () => {
    const sheet = { groundPx: 190, topM: 4, frame: { pxPerM: 44.5 } as never }
    const taps = [190, 12, 101, -50, 400].map((y) => heightAt(y, sheet))
    expect(taps).toEqual([0, 4, 2, 4, 0])
  })
  it('shows the foot, the lower stem or the whole tree, as large as the box allows', () => {
    expect([topOf('crown', 24.5, 5.2), topOf('stem', 24.5, 5.2), topOf('foot', 24.5, 5.2)]).toEqual([
      24.5, 7, 3,
    ])
    expect(topOf('stem', 3, 1)).toBe(3)
    const stem = sheetOf(beech, 'stem', 172, 236, 44)
    // 216 px over 7 m; a press 3 m over the ground line reads 3 m.
    expect(stem.frame.pxPerM).toBeCloseTo(216 / 7, 6)
    expect(heightAt(stem.groundPx - 3 * stem.frame.pxPerM, stem)).toBe(3)
    const crown = sheetOf(beech, 'crown', 172, 236, 44)
    expect(crown.frame.footPx - 5.6 * crown.frame.pxPerM).toBeGreaterThanOrEqual(44)
    expect(crown.frame.footPx + 9.1 * crown.frame.pxPerM).toBeLessThanOrEqual(172)
  })
  it('draws a finding on its side: east to the right, north and south on the axis', () => {
    const sheet = sheetOf(beech, 'crown', 172, 236, 44)
    const x = (deg: number | null) => pinX(beech, 'crown', sheet, 12, deg)
    expect(x(90)).toBeGreaterThan(x(null))
    expect(x(270)).toBeLessThan(x(null))
    expect(x(0)).toBeCloseTo(x(null), 6)
    expect(x(180)).toBeCloseTo(x(null), 6)
  })
  it('joins the four radii of a crown in their own proportion', () => {
    expect(crownPlan({ n: 10, e: 5, s: 10, w: 10 }, 40)).toBe(
      'M0 -40.0A20.0 40.0 0 0 1 20.0 0A20.0 40.0 0 0 1 0 40.0A40.0 40.0 0 0 1 -40.0 0A40.0 40.0 0 0 1 0 -40.0Z',
    )
  })
})

describe('a limited look', () => {
  const limited = () => {
    const draft = fresh()
    return { ...draft, assignment: { ...draft.assignment, level: 1 as const } }
  }
  it('goes through one screen, and is closed by the same rules', () => {
    const at = wentTo(answer(limited(), 'base', 'not-seen', 'Ivy'), 'base')
    expect([at.screen, at.open]).toEqual(['short', 'base'])
    expect(wentTo(fresh(), 'base').screen).toBe('base')
    const all = answerRest(answer(limited(), 'base', 'not-seen', 'Ivy'))
    expect(all.answers.base).toEqual({ result: 'not-seen', notSeenBecause: 'Ivy' })
    expect(missingToClose(visitOf({ ...all, endedAt: '2026-11-25T09:20:00Z' }))).toEqual([])
    expect(missingToClose(visitOf({ ...limited(), endedAt: '2026-11-25T09:20:00Z' }))).toHaveLength(7)
  })
  it('says on record from where it was made', () => {
    const visit = visitOf({ ...limited(), seenFrom: 'the path' })
    expect(visit.assignment?.limits).toBe(
      'Seen from the path. From the ground; nothing dug, nothing climbed.',
    )
    expect(visitOf({ ...fresh(), seenFrom: 'the path' }).assignment?.limits).not.toContain('Seen from')
  })
})

describe('the position while looking', () => {
  it('keeps the best accuracy of each step and of the visit', () => {
    let draft = answer(answer(fresh(), 'base', 'nothing-found'), 'stem', 'nothing-found')
    for (const metres of [12, 4.26, 9]) draft = addAccuracy(draft, ['base'], metres)
    draft = addAccuracy(draft, ['stem'], 7)
    const { steps, positionAccuracyM } = visitOf(draft)
    expect(steps.map((step) => step.accuracyM)).toEqual([4.3, 7])
    expect(positionAccuracyM).toBe(4.3)
    expect(visitInput.safeParse(visitOf(draft)).error).toBeUndefined()
  })
  it('says nothing where the device said nothing, and does not write for less than half a metre', () => {
    const draft = addAccuracy(answer(fresh(), 'base', 'nothing-found'), ['base'], 5)
    expect(addAccuracy(draft, ['base'], 4.8)).toBe(draft)
    expect(visitOf(answer(fresh(), 'base', 'nothing-found')).steps[0]?.accuracyM).toBeNull()
    expect(visitOf(fresh()).positionAccuracyM).toBeNull()
  })
})
