import { startingPolicy } from '@underbough/rating'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, point, storeTree, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('the policy, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    await officer('POST', '/zones', zoneExample())
    for (let i = 0; i < 12; i++)
      await storeTree(harness.deps.database, harness.organisationId, {
        position: point(lampGreen),
        heightM: 10,
      })
    await officer('POST', '/due/recompute', {})
    await harness.deps.jobs.idle()
  })
  afterAll(() => harness?.close())
  const put = (policy: unknown, ask = officer) => ask('PUT', '/policy', { policy })
  const dates = async () =>
    (await officer('GET', '/trees')).body.trees.map(
      (t: { due: { on: string; policyEdition: string } }) => t.due,
    )

  it('names each cell that is empty or out of order, and keeps the edition in force', async () => {
    const wrong = structuredClone(startingPolicy) as {
      edition: string
      months: Record<string, Record<string, Record<string, number | null>>>
      baselineMonths: Record<string, number>
    }
    wrong.edition = '2027'
    wrong.months.rare!.small!.slow = null
    wrong.baselineMonths.constant = 24
    const answer = await put(wrong)
    expect(answer.status).toBe(400)
    const said = answer.body.refusals.map((r: { code: string; path: string }) => `${r.code} ${r.path}`)
    expect(said).toContain('policy-cell-empty months.rare.small.slow')
    // 24 months where people always are, 6 where they often are.
    expect(said.find((s: string) => s.startsWith('policy-worse-waits-longer baselineMonths'))).toBeDefined()
    expect((await put(undefined)).status).toBe(400)
    expect((await put({})).body.refusals.length).toBeGreaterThan(5)
    expect((await officer('GET', '/policy')).body.policy).toEqual(startingPolicy)
  })

  it('dates every tree anew by a new edition, as a job', async () => {
    const before = await dates()
    // Under often used ground a first look falls within six months by the starting policy (of 1 November), on the first of them or later.
    for (const due of before) expect(due.on > '2026-11-01' && due.on <= '2027-05-01').toBe(true)
    expect(new Set(before.map((d: { policyEdition: string }) => d.policyEdition))).toEqual(
      new Set(['starting-1']),
    )
    const next = {
      ...startingPolicy,
      edition: '2027',
      baselineMonths: { ...startingPolicy.baselineMonths, constant: 1, frequent: 1 },
    }
    const answer = await put(next)
    expect(answer.status, JSON.stringify(answer.body)).toBe(200)
    await harness.deps.jobs.idle()
    expect((await officer('GET', `/jobs/${answer.body.jobId}`)).body).toMatchObject({
      kind: 'due',
      state: 'done',
    })
    const after = await dates()
    expect(after).toHaveLength(12)
    for (const due of after) {
      expect(due.policyEdition).toBe('2027')
      expect(due.on > '2026-11-01' && due.on <= '2026-12-01').toBe(true)
    }
    expect((await officer('GET', '/policy')).body.policy).toEqual(next)
  })

  it('is for those who answer for it', async () => {
    for (const role of ['inspector', 'client'] as const)
      expect((await put({ ...startingPolicy, edition: 'mine' }, await harness.as(role))).status).toBe(403)
    expect((await (await harness.as('client'))('GET', '/policy')).status).toBe(200)
  })
})
