import { randomUUID } from 'node:crypto'
import { underOf, type ZoneOnGround } from '@underbough/exposure'
import {
  blankTree,
  changeWords,
  consequenceWords,
  failureWords,
  lookingSteps,
  type OccupancyWord,
  occupancyWords,
  partSizeWords,
  planeAt,
  type RatingInput,
  scenarioParts,
  type Tree,
  treeStatuses,
  workKinds,
} from '@underbough/model'
import { dueInputOf, dueOf, proposeImpact, rateTree, recordsWith, startingPolicy } from '@underbough/rating'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, ringAt, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

/** Cases drawn from a seed, the same every time. */
function draws(seed: number) {
  let state = seed
  const next = () => {
    state = (state * 1664525 + 1013904223) >>> 0
    return state / 2 ** 32
  }
  return {
    between: (from: number, to: number) => from + (to - from) * next(),
    one: <T>(of: readonly T[]): T => of[Math.floor(next() * of.length)]!,
    chance: (share: number) => next() < share,
  }
}
type Draws = ReturnType<typeof draws>
const NOW = '2026-11-25T12:00:00Z'
const place = { timeZone: 'Atlantic/St_Helena', hemisphere: 'south' } as const
const plane = planeAt(lampGreen[0], lampGreen[1])

const treeOf = (d: Draws, i: number) =>
  blankTree({
    tag: `P${i}`,
    species: 'Fagus sylvatica',
    position: plane.toDegrees(d.between(-40, 40), d.between(-40, 40)),
    stems: d.chance(0.8) ? [{ diameterCm: Math.round(d.between(8, 130)), measuredAtM: 1.3 }] : [],
    heightM: d.chance(0.8) ? Math.round(d.between(6, 30)) : null,
    crownRadiiM: d.chance(0.6) ? { n: 5, e: Math.round(d.between(2, 8)), s: 4, w: 3 } : null,
    lean: d.chance(0.4) ? { bearingDeg: Math.round(d.between(0, 359)), angleDeg: 6 } : null,
    deadOrBrittle: d.chance(0.2),
    slope: d.chance(0.2) ? { downhillBearingDeg: 40, angleDeg: Math.round(d.between(2, 30)) } : null,
    status: d.chance(0.85) ? 'standing' : d.one(treeStatuses),
  })

function ratingOf(
  d: Draws,
  treeId: string,
  visitId: string,
  zoneId: string,
  word: OccupancyWord,
): RatingInput {
  const impact = proposeImpact(word, 'none').impact
  return {
    id: randomUUID(),
    treeId,
    visitId,
    timeFrameYears: 3,
    changeRate: d.one(changeWords),
    scenarios: [
      {
        id: randomUUID(),
        part: d.one(scenarioParts),
        partSize: d.one(partSizeWords),
        heightM: null,
        description: 'It comes down.',
        // Imminent and extreme ask for an urgent note, which plays no part in a date.
        failure: d.one(failureWords.slice(0, 3)),
        knownBearingDeg: null,
        targets: [
          {
            zoneId,
            targetName: 'A zone',
            protection: 'none',
            proposedImpact: impact,
            impact,
            impactReason: '',
            consequences: d.one(consequenceWords.slice(0, 3)),
          },
        ],
      },
    ],
    overrideRisk: null,
    overrideReason: '',
    residualRisk: null,
  }
}

const worksOf = (d: Draws, treeId: string, visitId: string) =>
  d.chance(0.5)
    ? [
        {
          id: randomUUID(),
          treeId,
          visitId,
          kind: d.one(workKinds),
          description: 'Something',
          dueOn: d.chance(0.5) ? '2027-03-01' : null,
          cost: null,
          residualRisk: null,
        },
      ]
    : []

const closingOf = (d: Draws, treeId: string, zone: { id: string; word: OccupancyWord }, day: string) => {
  const id = randomUUID()
  const level = d.one([1, 2, 3] as const)
  const assignment = {
    scope: 'This tree',
    level,
    levelReason: '',
    timeFrameYears: 3,
    targets: 'A zone',
    limits: '',
  }
  return {
    visit: {
      id,
      treeId,
      level,
      startedAt: `${day}T09:05:00Z`,
      endedAt: `${day}T09:30:00Z`,
      weather: '',
      leafState: 'in-leaf',
      assignment,
      steps: lookingSteps.map((step) => ({
        step,
        result: 'nothing-found',
        notSeenBecause: null,
        seconds: 9,
      })),
      findings: [],
      couldNotSee: '',
      positionAccuracyM: null,
    },
    rating: d.chance(0.75) ? ratingOf(d, treeId, id, zone.id, zone.word) : null,
    works: worksOf(d, treeId, id),
    urgentNote: null,
  }
}

// The phone has only what the office answered before, and reckons by the same packages; the office is asked what it made of it.
describe.each(databases)('a phone without signal and the office, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let inspector: Ask
  const zones: (ZoneOnGround & { word: OccupancyWord })[] = []
  const wordOf = (id: string) => zones.find((zone) => zone.id === id)?.word ?? null
  beforeAll(async () => {
    harness = await startHarness(kind, new Date(NOW))
    officer = await harness.as('officer')
    inspector = await harness.as('inspector')
    for (const [i, word] of occupancyWords.entries()) {
      const [e, n] = [i * 18 - 40, i * 9 - 20]
      const corners: [number, number][] = [
        [e, n],
        [e + 14, n],
        [e + 14, n + 8],
        [e, n + 8],
      ]
      const made = await officer(
        'POST',
        '/zones',
        zoneExample({
          name: `Zone ${word}`,
          occupancyWord: word,
          occupancy: { kind: 'class', word, peopleWhenPresent: 2 },
          geometry: { type: 'Polygon', coordinates: [ringAt(lampGreen, corners)] },
        }),
      )
      const { zone } = (await officer('GET', `/zones/${made.body.id}`)).body
      zones.push({ ...zone, word })
    }
  })
  afterAll(() => harness?.close())

  it('give the same date for the same reason, and the same people under the tree', async () => {
    const d = draws(417)
    let dated = 0
    let under = 0
    for (let i = 0; i < 14; i++) {
      const tree: Tree = (await officer('POST', '/trees', treeOf(d, i))).body
      await harness.deps.jobs.idle()
      const { exposure } = (await officer('GET', `/trees/${tree.id}/exposure`)).body
      const around = (await inspector('GET', `/trees/${tree.id}/zones`)).body.zones
      const here = underOf(tree, null, around, [])?.whole ?? null
      expect(here === null).toBe(exposure === null)
      for (const zone of exposure?.zones ?? []) {
        const mine = here!.zones.find((one) => one.id === zone.zoneId)!
        expect(mine.people.mean).toBeCloseTo(zone.people.mean, 6)
        expect(mine.pTouch.mean).toBeCloseTo(zone.pTouch.mean, 6)
        under++
      }
      if (d.chance(0.3))
        await officer('POST', `/trees/${tree.id}/events`, {
          id: randomUUID(),
          kind: 'gust',
          on: '2026-11-20',
          lookWithinDays: null,
          note: '',
        })
      for (const day of ['2026-05-30', '2026-11-25']) {
        const known = (await officer('GET', `/trees/${tree.id}`)).body
        const closing = closingOf(d, tree.id, d.one(zones), day)
        const rated = closing.rating && rateTree(closing.rating)
        const made = {
          visit: closing.visit,
          rating: rated?.ok ? { ...closing.rating!, ...rated.value } : null,
          ratedAt: NOW < closing.visit.endedAt ? NOW : closing.visit.endedAt,
          works: closing.works,
        }
        const mine = dueOf(recordsToInput(known, made), startingPolicy)
        const answer = await inspector('POST', `/visits/${closing.visit.id}/close`, closing)
        expect(answer.status, JSON.stringify(answer.body)).toBe(200)
        const { due, dueParts } = (await officer('GET', `/trees/${tree.id}`)).body
        if (!due) expect(mine).toBeNull()
        else {
          expect(mine).toMatchObject(due)
          expect(mine!.parts).toEqual(dueParts)
          dated++
        }
      }
    }
    expect(dated).toBeGreaterThan(15)
    expect(under).toBeGreaterThan(5)
  })

  const recordsToInput = (
    known: Parameters<typeof recordsWith>[0],
    made: Parameters<typeof recordsWith>[1],
  ) => dueInputOf(recordsWith(known, made, place, wordOf))
})
