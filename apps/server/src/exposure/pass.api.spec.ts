import { randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { type Position, planeAt, seededNumbers } from '@underbough/model'
import { and, eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Cancelled, type JobContext } from '../jobs/jobs.ts'
import { lampGreen, point, ringAt, storeTree, zoneExample } from '../testing/examples.ts'
import { databases, type Harness, startHarness } from '../testing/harness.ts'
import { insertZone } from '../zones/queries.ts'
import { passOverAll } from './pass.ts'
import { claimTile, deleteTiles, finishTile, insertTiles, openPasses } from './pass-queries.ts'
import { exposureView } from './service.ts'
import { solverHere } from './solvers.ts'
import { tilesOf } from './tiles.ts'
import { reckonAndWrite } from './write.ts'

const TREES = 90
/** Trees lie over more than one of the largest squares, 2.4 km wide. */
const SPREAD_M = 6000

describe.each(databases)('a pass over all trees, on %s', (kind) => {
  let harness: Harness
  const treeIds: string[] = []
  const places: Position[] = []
  const zoneIds: string[] = []
  const random = seededNumbers(8)
  beforeAll(async () => {
    harness = await startHarness(kind)
    const { organisationId, deps } = harness
    const plane = planeAt(...lampGreen)
    for (let i = 0; i < TREES; i++) {
      const place = plane.toDegrees(SPREAD_M * random(), (SPREAD_M / 3) * random())
      const id = await storeTree(deps.database, organisationId, {
        position: point(place),
        heightM: 8 + 14 * random(),
        stems: [{ diameterCm: 30 + 40 * random(), measuredAtM: 1.3 }],
        lean: i % 3 === 0 ? { bearingDeg: 360 * random(), angleDeg: 5 } : null,
        status: i % 30 === 29 ? 'stump' : 'standing',
      })
      treeIds.push(id)
      places.push(place)
      const from = 24 * random()
      const ring = ringAt(place, [
        [from, 1],
        [from + 9, 0],
        [from + 8, 6],
      ])
      zoneIds.push(await addZone(ring))
    }
  })
  afterAll(() => harness?.close())

  async function addZone(ring: Position[]) {
    const id = randomUUID()
    const input = zoneExample({ geometry: { type: 'Polygon', coordinates: [ring] } })
    await insertZone(harness.deps.database.db, harness.organisationId, id, { ...input, areaM2: 50 })
    return id
  }

  /** A job that is at work, as the queue hands it over; `progress` runs at each word of how far it is. */
  async function jobAtWork(progress: (done: number) => void = () => {}) {
    const jobId = randomUUID()
    const { organisationId, deps } = harness
    await deps.database.db.insert(tables.job).values({
      organisationId,
      id: jobId,
      kind: 'exposure',
      state: 'working',
      input: {},
      startedBy: 'officer-1',
      // Alive for as long as the test may take.
      markedAt: '2999-01-01T00:00:00Z',
    })
    return {
      organisationId,
      jobId,
      cancelled: () => false,
      progress: async (done: number) => progress(done),
    } satisfies JobContext
  }

  const figures = async () => {
    const { db } = harness.deps.database
    const trees = await db.select().from(tables.exposure).orderBy(tables.exposure.treeId)
    const zones = await db
      .select()
      .from(tables.exposureZone)
      .orderBy(tables.exposureZone.treeId, tables.exposureZone.zoneId)
    return { trees, zones }
  }
  const withoutTime = ({ trees, zones }: Awaited<ReturnType<typeof figures>>) => ({
    trees: trees.map(({ computedAt: _, ...row }) => row),
    zones,
  })
  const empty = async () => {
    await harness.deps.database.db.delete(tables.exposureZone)
    await harness.deps.database.db.delete(tables.exposure)
  }

  it('puts figures for each pair whose fall may touch, and for no other: those nearer than the reach by the database’s geodesic distance', async () => {
    const { deps } = harness
    const tiles = await tilesOf(deps.database.db, harness.organisationId)
    expect(tiles.length).toBeGreaterThan(2)
    expect(await passOverAll(deps, await jobAtWork())).toBe(`${TREES} trees, 87 computed anew.`)
    const { trees, zones } = await figures()
    // Three are stumps: nothing stands that could fall.
    expect(trees.length).toBe(TREES - 3)
    const near = await deps.database.db.execute<{ pair: string }>(sql`
      select e.tree_id || ' ' || z.id as pair from exposure e
      join tree t on t.organisation_id = e.organisation_id and t.id = e.tree_id
      join zone z on z.organisation_id = e.organisation_id
        and ST_DWithin(z.geometry::geography, t.position::geography, e.reach_m - 0.001)`)
    expect(zones.map((row) => `${row.treeId} ${row.zoneId}`).sort()).toEqual(
      [...near].map((row) => row.pair).sort(),
    )
    expect(await deps.database.db.$count(tables.exposureTile)).toBe(0)
  })

  it('leaves trees alone whose inputs are the same, and finds those that differ, or have a zone that does', async () => {
    const { deps, organisationId } = harness
    const before = await figures()
    expect(await passOverAll(deps, await jobAtWork())).toBe(`${TREES} trees, 0 computed anew.`)
    expect(await figures()).toEqual(before)

    const change = async (values: Partial<typeof tables.tree.$inferInsert>, id: string) =>
      deps.database.db
        .update(tables.tree)
        .set({ ...values, version: sql`version + 1` as never })
        .where(and(eq(tables.tree.organisationId, organisationId), eq(tables.tree.id, id)))
    await change({ note: 'Ivy.' }, treeIds[0]!)
    await change({ heightM: 21.5 }, treeIds[1]!)
    await change({ status: 'gone' }, treeIds[2]!)
    const bearing = before.zones.find(({ treeId }) => !treeIds.slice(0, 3).includes(treeId))!
    await deps.database.db
      .update(tables.zone)
      .set({
        occupancy: { kind: 'class', word: 'constant', peopleWhenPresent: 3 },
        version: sql`version + 1` as never,
      })
      .where(eq(tables.zone.id, bearing.zoneId))
    const view = async (id: string, at: Position) => exposureView(deps.database.db, organisationId, id, at)
    expect((await view(treeIds[1]!, places[1]!))?.current).toBe(false)
    await passOverAll(deps, await jobAtWork())
    const after = await figures()
    const changed = after.trees.filter(
      (row) =>
        !before.trees.some((old) => old.treeId === row.treeId && old.inputsDigest === row.inputsDigest),
    )
    expect(changed.map((row) => row.treeId)).toContain(treeIds[1])
    expect(changed.map((row) => row.treeId)).toContain(bearing.treeId)
    expect(changed.map((row) => row.treeId)).not.toContain(treeIds[0])
    expect(after.trees.map((row) => row.treeId)).not.toContain(treeIds[2])
    expect(after.zones.map((row) => row.treeId)).not.toContain(treeIds[2])
    expect((await view(treeIds[1]!, places[1]!))?.current).toBe(true)
  })

  it('gives a square to one at a time, and takes it from one that is silent; who lost it writes nothing', async () => {
    const { deps, organisationId } = harness
    const { db } = deps.database
    await empty()
    const { jobId } = await jobAtWork()
    const tiles = await tilesOf(db, organisationId)
    await insertTiles(db, organisationId, jobId, tiles)
    // A second process that begins the same pass changes nothing.
    await insertTiles(db, organisationId, jobId, tiles)
    expect(await openPasses(db)).toEqual([{ organisationId, jobId }])
    const claim = (who: string, staleS = 30) => claimTile(db, organisationId, jobId, who, staleS)
    const [first, second] = [randomUUID(), randomUUID()]
    const mine = await claim(first)
    const others = []
    for (let one = await claim(second); one; one = await claim(second)) others.push(one)
    expect([mine, ...others].length).toBe(tiles.length)
    expect(new Set([mine, ...others].map((tile) => JSON.stringify(tile))).size).toBe(tiles.length)
    await db
      .update(tables.exposureTile)
      .set({ claimedAt: sql`now() - interval '31 seconds'` as never })
      .where(eq(tables.exposureTile.claimedBy, first))
    expect(await claim(second)).toEqual(mine)
    const write = (who: string) =>
      reckonAndWrite(deps, organisationId, mine!, solverHere(), (tx, { changed }) =>
        finishTile(tx, organisationId, jobId, who, mine!, changed),
      )
    expect(await write(first)).toBeNull()
    expect((await figures()).trees.length).toBe(0)
    expect((await write(second))!.changed).toBeGreaterThan(0)
    const once = await figures()
    expect(await write(second)).toBeNull()
    expect(await figures()).toEqual(once)
    await deps.jobs.cancel(organisationId, jobId)
    expect(await claim(first, 0)).toBeUndefined()
    expect(await openPasses(db)).toEqual([])
    await deleteTiles(db, organisationId, jobId)
  })

  it('goes on with what is left when it is begun again, and keeps what was written when it is stopped', async () => {
    const { deps } = harness
    const { db } = deps.database
    await empty()
    await passOverAll(deps, await jobAtWork())
    const whole = await figures()

    await empty()
    const stopped = await jobAtWork((done) => {
      if (done > 0) throw new Cancelled()
    })
    await expect(passOverAll(deps, stopped)).rejects.toThrow(Cancelled)
    const part = await figures()
    expect(part.trees.length).toBeGreaterThan(0)
    expect(withoutTime(whole).trees).toEqual(expect.arrayContaining(withoutTime(part).trees))
    expect(await db.$count(tables.exposureTile)).toBe(0)

    await empty()
    let died = false
    const job = await jobAtWork((done) => {
      if (died || done === 0) return
      died = true
      throw new Error('the process dies here')
    })
    await expect(passOverAll(deps, job)).rejects.toThrow('dies here')
    // What was done before it died is not done again.
    const done = await figures()
    await db
      .update(tables.exposureTile)
      .set({ state: 'waiting' })
      .where(eq(tables.exposureTile.state, 'working'))
    await passOverAll(deps, job)
    const resumed = await figures()
    expect(withoutTime(resumed)).toEqual(withoutTime(whole))
    expect(resumed.trees).toEqual(expect.arrayContaining(done.trees))
  })
})
