import { defaultExposurePolicy } from '@underbough/exposure'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, point, ringAt, storeTree, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const half = 30
const square = {
  type: 'Polygon' as const,
  coordinates: [
    ringAt(lampGreen, [
      [-half, -half],
      [half, -half],
      [half, half],
      [-half, half],
    ]),
  ],
}

describe.each(databases)('what exposure assumes, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  let treeId: string
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
    treeId = await storeTree(harness.deps.database, harness.organisationId, {
      position: point(lampGreen),
      heightM: 10,
      stems: [{ diameterCm: 50, measuredAtM: 1.3 }],
      stemDiameterCm: 50,
      status: 'pole',
    })
    await officer(
      'POST',
      '/zones',
      zoneExample({
        geometry: square,
        occupancyWord: 'constant',
        occupancy: { kind: 'class', word: 'constant', peopleWhenPresent: 36 },
      }),
    )
    await harness.deps.jobs.idle()
  })
  afterAll(() => harness?.close())
  const put = (body: object, ask = officer) => ask('PUT', '/exposure-policy', body)
  const exposure = async () => (await officer('GET', `/trees/${treeId}/exposure`)).body.exposure

  it('begins with the starting figures as edition 0', async () => {
    expect((await officer('GET', '/exposure-policy')).body).toEqual({
      edition: 0,
      policy: defaultExposurePolicy,
      editions: [],
    })
  })

  it('names each figure beyond its limits, and what is no figure of it', async () => {
    const wrong = { ...defaultExposurePolicy, bodyHalfWidthM: 3, gravity: 9.81 }
    const answer = await put({ version: 0, policy: wrong, reason: 'Trial' })
    expect(answer.status).toBe(400)
    expect(answer.body.refusals[0]).toMatchObject({
      code: 'out-of-range',
      path: 'policy.bodyHalfWidthM',
      value: 3,
      limit: 'at most 1',
    })
    expect(answer.body.refusals).toHaveLength(2)
    expect((await put({ version: 0, policy: defaultExposurePolicy, reason: ' ' })).status).toBe(400)
    expect((await officer('GET', '/exposure-policy')).body.edition).toBe(0)
  })

  it('computes every tree anew by a new edition, which each figure names', async () => {
    const perM2 = 36 / (2 * half) ** 2
    // A zone that holds every fall: people are the outline's area times their density, whichever way it falls (closed form).
    const before = await exposure()
    expect(before.joint.people.mean / perM2).toBeCloseTo(10 * (0.5 + 2 * 0.25), 2)
    const answer = await put({ version: 0, policy: { bodyHalfWidthM: 0.75 }, reason: 'Wide coats in winter' })
    expect(answer.status, JSON.stringify(answer.body)).toBe(200)
    expect(answer.body).toMatchObject({
      edition: 1,
      policy: { ...defaultExposurePolicy, bodyHalfWidthM: 0.75 },
      editions: [{ edition: 1, reason: 'Wide coats in winter' }],
    })
    await harness.deps.jobs.idle()
    expect((await officer('GET', `/jobs/${answer.body.jobId}`)).body).toMatchObject({
      kind: 'exposure',
      state: 'done',
    })
    const after = await exposure()
    expect(after.joint.people.mean / perM2).toBeCloseTo(10 * (0.5 + 2 * 0.75), 2)
    expect([before.inputs.policyEdition, after.inputs.policyEdition]).toEqual([0, 1])
  })

  it('keeps the edition that somebody else made first', async () => {
    const answer = await put({ version: 0, policy: defaultExposurePolicy, reason: 'Back again' })
    expect(answer.status).toBe(409)
    expect(answer.body.refusals[0]).toMatchObject({ code: 'conflict', path: 'version', value: 1 })
    expect(answer.body.current.policy.bodyHalfWidthM).toBe(0.75)
  })

  it('is read by all and changed by those who answer for it', async () => {
    for (const role of ['inspector', 'client'] as const) {
      const ask = await harness.as(role)
      expect((await put({ version: 1, policy: {}, reason: 'Mine' }, ask)).status).toBe(403)
      expect((await ask('GET', '/exposure-policy')).status).toBe(200)
    }
  })
})
