import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { type FailureWord, planeAt, type Scenario } from '@underbough/model'
import { startingBands, startingVulnerability } from '@underbough/rating'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { treeExample } from '../testing/bodies.ts'
import { lampGreen, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const said = (answer: { status: number; body: { refusals: { code: string }[] } }) =>
  `${answer.status} ${answer.body.refusals[0]?.code}`

describe.each(databases)('the estimate, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let manager: Ask
  let zoneId: string
  const trees: string[] = []
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    manager = await harness.as('manager')
    zoneId = (await officer('POST', '/zones', zoneExample({ name: 'Play area' }))).body.id
    const plane = planeAt(...lampGreen)
    for (const [east, north] of [
      [10, -6],
      [23, 5],
      [-5, 5],
    ] as const) {
      const place = plane.toDegrees(east, north)
      trees.push((await officer('POST', '/trees', treeExample({ position: place }))).body.id)
    }
    await harness.deps.jobs.idle()
  })
  afterAll(() => harness?.close())

  const scenario = (failure: FailureWord, changes: Partial<Scenario> = {}): Scenario => ({
    id: randomUUID(),
    part: 'whole-tree',
    partSize: 'large',
    heightM: null,
    description: 'It goes over at the root plate.',
    failure,
    knownBearingDeg: null,
    targets: [],
    ...changes,
  })
  const rate = async (treeId: string, on: string, ...scenarios: Scenario[]) => {
    const { db } = harness.deps.database
    const { organisationId } = harness
    const [visitId, at] = [randomUUID(), `${on}T10:00:00Z`]
    await db.insert(tables.visit).values({
      organisationId,
      id: visitId,
      treeId,
      personId: 'inspector-1',
      level: 2,
      stage: 'closed',
      startedAt: at,
      endedAt: at,
      weather: '',
      leafState: 'in-leaf',
      steps: [],
      couldNotSee: '',
    })
    await db.insert(tables.rating).values({
      organisationId,
      id: randomUUID(),
      treeId,
      visitId,
      personId: 'inspector-1',
      ratedAt: at,
      timeFrameYears: 3,
      changeRate: 'ordinary',
      scenarios,
      worst: {} as never,
      computedRisk: 'low',
      overrideReason: '',
      risk: 'low',
      matricesEdition: '1',
      policyEdition: '1',
      methodVersion: '1',
    })
  }
  const fails = (treeId: string | null, on: string) =>
    officer('POST', '/failures', {
      id: randomUUID(),
      treeId,
      place: treeId ? null : lampGreen,
      on,
      part: 'limb',
      gustMps: null,
      hit: '',
      nearMiss: false,
      note: '',
    })
  const decided = (changes: object = {}) => ({
    bands: startingBands,
    vulnerability: startingVulnerability,
    users: [],
    recordsSince: '2021-01-01',
    ...changes,
  })
  const decision = (number: number, on: boolean, of: object | null = decided()) => ({
    number,
    on,
    text: 'The town decided this at its meeting, for ranking only.',
    decided: on ? of : null,
  })
  /** 1 − (1 − p)^(1/3), the yearly chance behind a word within three years. */
  const yearly = (chance: number) => 1 - (1 - chance) ** (1 / 3)
  const peopleUnder = async (treeId: string) =>
    (await officer('GET', `/trees/${treeId}/exposure`)).body.exposure.zones.find(
      (z: { zoneId: string }) => z.zoneId === zoneId,
    ).people as { mean: number; least: number; most: number }

  it('is off until somebody has decided, and only a manager may', async () => {
    expect((await officer('GET', '/estimate')).body).toMatchObject({ on: false, decisions: [], users: [] })
    expect((await officer('GET', '/estimate/zones')).body).toEqual({
      on: false,
      zones: [],
      total: null,
      waiting: 0,
    })
    expect((await officer('GET', `/trees/${trees[0]}/estimate`)).body).toEqual({ on: false, tree: null })
    expect(said(await officer('POST', '/estimate/decisions', decision(1, true)))).toBe('403 forbidden')
  })

  it('stays off without a recorded failure of a rated tree', async () => {
    await rate(trees[0]!, '2021-01-01', scenario('probable'))
    await rate(trees[1]!, '2021-01-01', scenario('possible'), scenario('possible', { part: 'limb' }))
    const none = await manager('POST', '/estimate/decisions', decision(1, true))
    expect(said(none)).toBe('400 estimate-no-failures')
    await fails(null, '2022-03-01')
    await fails(trees[2]!, '2022-03-01')
    // Before its rating stood, and of a tree without one: neither speaks for or against a word.
    await fails(trees[0]!, '2020-06-01')
    const others = await manager('POST', '/estimate/decisions', decision(1, true))
    expect(said(others)).toBe('400 estimate-no-failures')
    expect(others.body.refusals[0].message).toContain('2 failures')
  })

  it('counts the years that each word stood, until the next rating, work or the end of the tree', async () => {
    // 2021-01-01 to 2026-11-25 is 2154 days.
    const check = (await officer('POST', '/estimate/check', { bands: startingBands, since: '2021-01-01' }))
      .body
    const years = 2154 / 365.25
    const of = (word: string) =>
      check.record.atRisk.find((r: { failure: string }) => r.failure === word)?.years as number
    expect(of('probable')).toBeCloseTo(years, 9)
    expect(of('possible')).toBeCloseTo(2 * years, 9)
    expect(check.record.treeYears).toBeCloseTo(2 * years, 9)
    const later = (await officer('POST', '/estimate/check', { bands: startingBands, since: '2026-11-15' }))
      .body
    expect(later.record.treeYears).toBeCloseTo(20 / 365.25, 9)
  })

  it('refuses bands that its failures speak against, with the figures', async () => {
    await fails(trees[0]!, '2023-05-01')
    const certain = { from: 0.9, to: 1 }
    const bands = {
      edition: 'too much',
      words: { ...startingBands.words, probable: certain, imminent: certain },
    }
    const tooMuch = {
      ...bands,
      words: { ...bands.words, possible: certain },
    }
    const answer = await manager(
      'POST',
      '/estimate/decisions',
      decision(1, true, decided({ bands: tooMuch })),
    )
    expect(said(answer)).toBe('400 estimate-disagrees')
    // Exact limits of one recorded failure: 0.0253 to 5.572 (tables after Garwood 1936).
    expect(answer.body.refusals[0].limit).toBe('0.025 to 5.6, the 95 % interval of 1 recorded')
    const turned = { ...startingBands, words: { ...startingBands.words, imminent: { from: 1e-3, to: 0.1 } } }
    expect(
      said(await manager('POST', '/estimate/decisions', decision(1, true, decided({ bands: turned })))),
    ).toBe('400 bands-out-of-order')
    expect((await officer('GET', '/estimate')).body.decisions).toEqual([])
  })

  it('is switched on by a decision in writing, which is kept', async () => {
    const users = [{ who: 'Keeper of the play area', zoneId, hoursPerYear: 1000 }]
    const answer = await manager('POST', '/estimate/decisions', decision(1, true, decided({ users })))
    expect(answer.status).toBe(200)
    const state = (await officer('GET', '/estimate')).body
    expect(state).toMatchObject({ on: true, decisions: [{ number: 1, on: true, madeBy: 'The manager' }] })
    expect(state.decisions[0].agreement.failures).toBe(1)
    expect(state.users[0]).toMatchObject({
      who: 'Keeper of the play area',
      zoneName: 'Play area',
      verdict: 'undecided',
    })
    expect(said(await manager('POST', '/estimate/decisions', decision(1, false)))).toBe('409 conflict')
  })

  it('adds chance times people over scenarios and trees, each end by itself', async () => {
    const { zones, total, waiting } = (await officer('GET', '/estimate/zones')).body
    expect([waiting, total.rated, total.unrated]).toEqual([0, 2, 1])
    expect(zones).toHaveLength(1)
    const [first, second] = [await peopleUnder(trees[0]!), await peopleUnder(trees[1]!)]
    const limb = zones[0].worst.concat([]).find((w: { tree: { id: string } }) => w.tree.id === trees[1])
    const whole = yearly(0.01) * second.most
    // What the second tree bears beyond its whole fall is its limb, which reaches less far.
    expect(limb.perYear.most).toBeGreaterThan(1.001 * whole)
    expect(limb.perYear.most).toBeLessThan(2 * whole)
    const own = zones[0].worst.find((w: { tree: { id: string } }) => w.tree.id === trees[0])
    expect(own.perYear.least).toBeCloseTo(yearly(0.01) * first.least, 6)
    expect(own.perYear.most).toBeCloseTo(yearly(0.3) * first.most, 6)
    expect(zones[0].perYear.most).toBeCloseTo(own.perYear.most + limb.perYear.most, 9)
    expect(total.most).toBeCloseTo(zones[0].perYear.most, 9)
  })

  it('says of one tree what it is made of and what moves it most', async () => {
    const { tree } = (await officer('GET', `/trees/${trees[0]}/estimate`)).body
    expect(tree.scenarios[0].yearly.most).toBeCloseTo(yearly(0.3), 12)
    const order = tree.movers.map((m: { times: number }) => m.times)
    expect(order).toEqual([...order].sort((a, b) => b - a))
    const times = Object.fromEntries(
      tree.movers.map((m: { input: string; times: number }) => [m.input, m.times]),
    )
    expect(times.people).toBeCloseTo(4, 9)
    expect(times.band).toBeCloseTo(yearly(0.3) / yearly(0.01), 9)
    expect(tree.mostExposed.who).toBe('Keeper of the play area')
    expect((await officer('GET', `/trees/${trees[2]}/estimate`)).body).toEqual({ on: true, tree: null })
  })

  it('follows a changed rating and a changed zone', async () => {
    const before = (await officer('GET', '/estimate/zones')).body.total.most
    const { zone } = (await officer('GET', `/zones/${zoneId}`)).body
    const occupancy = { kind: 'class', word: 'frequent', peopleWhenPresent: 4 }
    expect((await officer('PUT', `/zones/${zoneId}`, { ...zone, occupancy })).status).toBe(200)
    await harness.deps.jobs.idle()
    const after = (await officer('GET', '/estimate/zones')).body.total.most
    expect(after / before).toBeCloseTo(2, 4)
    await rate(trees[1]!, '2026-11-24', scenario('improbable'))
    expect((await officer('GET', '/estimate/zones')).body.total.most).toBeLessThan(after)
  })

  it('is held back once new failures speak against its bands', async () => {
    for (let i = 0; i < 9; i++) await fails(trees[0]!, `2025-0${i + 1}-01`)
    const state = (await officer('GET', '/estimate')).body
    expect([state.on, state.agreement.refusal.code]).toEqual([false, 'estimate-disagrees'])
    expect((await officer('GET', '/estimate/zones')).body.zones).toEqual([])
  })

  it('is switched off by another decision, and both stay on record', async () => {
    const answer = await manager('POST', '/estimate/decisions', decision(2, false))
    expect(answer.body.decisions.map((d: { on: boolean }) => d.on)).toEqual([false, true])
    const short = { ...decision(3, true), text: 'Yes.' }
    expect(said(await manager('POST', '/estimate/decisions', short))).toBe('400 out-of-range')
    const missing = decision(
      3,
      true,
      decided({ users: [{ who: 'Nobody', zoneId: randomUUID(), hoursPerYear: 9 }] }),
    )
    expect(said(await manager('POST', '/estimate/decisions', missing))).toBe('404 unknown')
  })
})
