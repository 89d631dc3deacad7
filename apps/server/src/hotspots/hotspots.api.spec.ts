import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { planeAt, type RiskWord } from '@underbough/model'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lampGreen, point, storeTree, zoneExample } from '../testing/examples.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

describe.each(databases)('hotspots, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  const hang = async (
    zoneId: string,
    tag: string,
    risk: RiskWord | null,
    people: number,
    status = 'standing' as 'standing' | 'gone',
  ) => {
    const { organisationId, deps } = harness
    const treeId = await storeTree(
      deps.database,
      organisationId,
      { tag, status, position: point(lampGreen) },
      { risk, dueOn: '2026-11-20' },
    )
    const zeros = {
      peopleStem: 0,
      peopleCrown: 0,
      pTouch: 0.5,
      pTouchLeast: 0,
      pTouchMost: 1,
      pAny: 0.1,
      touching: [],
    }
    await deps.database.db.insert(tables.exposureZone).values({
      organisationId,
      treeId,
      zoneId,
      people,
      peopleLeast: people / 2,
      peopleMost: people * 2,
      ...zeros,
    })
    await deps.database.db.insert(tables.exposure).values({
      organisationId,
      treeId,
      reachM: 10,
      inputsDigest: randomUUID(),
      methodVersion: '1',
      computedAt: '2026-11-25T09:00:00Z',
    })
  }

  it('ranks zones by the people under rated trees, and says how many trees hang over them', async () => {
    expect((await officer('GET', '/hotspots')).body).toEqual({ zones: [], computedAt: null })
    const zone = async (name: string) =>
      (await officer('POST', '/zones', zoneExample({ name }))).body.id as string
    const [green, walk, road] = [
      await zone('Lamp Green'),
      await zone('Kirk Walk'),
      await zone('Harbour Road'),
    ]
    await hang(walk, 'W1', 'moderate', 0.25)
    await hang(walk, 'W2', 'extreme', 0.5)
    await hang(walk, 'W3', 'low', 2)
    await hang(walk, 'W4', null, 1)
    await hang(green, 'G1', 'high', 1)
    await hang(green, 'G2', 'extreme', 9, 'gone')
    await hang(road, 'R1', null, 5)

    const { body } = await officer('GET', '/hotspots')
    const short = body.zones.map(
      (z: {
        zone: { name: string }
        sumModerate: number
        trees: number
        treesModerate: number
        rank: number
      }) => [z.rank, z.zone.name, z.sumModerate, z.trees, z.treesModerate],
    )
    expect(short).toEqual([
      [1, 'Lamp Green', 1, 1, 1],
      [2, 'Kirk Walk', 0.75, 4, 2],
      [3, 'Harbour Road', 0, 1, 0],
    ])
    // The example zone is a rectangle of 20 by 10 m from this corner on; the place lies within it.
    const [east, north] = planeAt(...lampGreen).toMetres(...(body.zones[1].zone.place as [number, number]))
    expect(east > 0 && east < 20 && north > 0 && north < 10, `${east}, ${north}`).toBe(true)
    expect(body.zones[1].people).toEqual({ mean: 2, least: 1, most: 4 })
    expect(
      body.zones[1].worst.map((t: { tag: string; overdueDays: number }) => [t.tag, t.overdueDays]),
    ).toEqual([
      ['W2', 5],
      ['W1', 5],
      ['W3', 5],
    ])
    expect(body.computedAt).toBe('2026-11-25T09:00:00.000Z')
    expect((await officer('GET', '/hotspots?limit=1')).body.zones.length).toBe(1)
  })
})
