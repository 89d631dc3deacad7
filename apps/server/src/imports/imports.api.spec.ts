import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { tables } from '@underbough/db'
import { eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { createJobs } from '../jobs/jobs.ts'
import { works } from '../jobs/works.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const fixture = (name: string) =>
  readFileSync(new URL(`../../../../fixtures/import/${name}`, import.meta.url))

describe.each(databases)('imports, on %s', (kind) => {
  let harness: Harness
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness(kind)
    officer = await harness.as('officer')
  })
  afterAll(() => harness?.close())

  const upload = (what: string, name: string, bytes: Uint8Array<ArrayBuffer> | Buffer = fixture(name)) => {
    const form = new FormData()
    form.set('kind', what)
    form.set('file', new File([new Uint8Array(bytes)], name))
    return officer('POST', '/imports', form)
  }
  /** Takes a file in with the suggested mapping, changed as said, and reads it. */
  const read = async (what: string, name: string, change: object = {}, bytes?: Buffer) => {
    const { body: begun } = await upload(what, name, bytes)
    const mapping = { ...begun.suggested, ...change }
    const asked = await officer('POST', `/imports/${begun.importId}/preview`, { mapping })
    expect(asked.status, JSON.stringify(asked.body)).toBe(200)
    await harness.deps.jobs.idle()
    return {
      id: begun.importId as string,
      begun,
      status: (await officer('GET', `/imports/${begun.importId}`)).body,
    }
  }
  const commit = async (id: string) => {
    expect((await officer('POST', `/imports/${id}/commit`)).status).toBe(200)
    await harness.deps.jobs.idle()
    return (await officer('GET', `/imports/${id}`)).body
  }
  const storedTrees = async () =>
    new Map((await harness.deps.database.db.select().from(tables.tree)).map((tree) => [tree.sourceKey, tree]))

  it('suggests a mapping, reads row by row, and writes only when told to', async () => {
    const { id, begun, status } = await read('trees', 'port-maud-2025.csv')
    expect(begun.table).toMatchObject({ rows: 12, format: 'csv', delimiter: ',' })
    expect(begun.table.columns.map((c: { name: string }) => c.name)).toContain('DBH_TRUNK')
    expect(begun.suggested.columns).toMatchObject({
      STRUCTID: 'sourceKey',
      DBH_TRUNK: 'diameter',
      geometry: 'geometry',
    })
    expect(begun.explanations.columns.length).toBe(8)
    expect(status).toMatchObject({
      state: 'ready',
      counts: { rows: 12, refused: 0, new: 12, changed: 0, same: 0, gone: 0 },
    })
    const codes = Object.fromEntries(
      status.byCode.map((c: { code: string; count: number }) => [c.code, c.count]),
    )
    expect(codes['shared-position']).toBe(2)
    expect((await storedTrees()).size).toBe(0)

    expect((await commit(id)).state).toBe('done')
    const stored = await storedTrees()
    expect(stored.size).toBe(12)
    expect(stored.get('PM-0001')).toMatchObject({ stemDiameterCm: 48, enteredOn: '2026-11-25', version: 1 })
    expect(stored.get('PM-0005')).toMatchObject({ stemDiameterCm: null, stems: [] })
    const dated = await harness.deps.database.db.select().from(tables.treeState)
    expect(dated.length).toBe(12)
    const listed = (await officer('GET', '/imports')).body.imports
    expect(listed).toMatchObject([
      { importId: id, fileName: 'port-maud-2025.csv', kind: 'trees', state: 'done', counts: { new: 12 } },
    ])
    expect((await (await harness.as('client'))('GET', '/imports')).status).toBe(403)
    const again = await officer('POST', `/imports/${id}/commit`)
    expect([again.status, again.body.refusals[0].code]).toEqual([409, 'conflict'])
  })

  it('sets a newer export beside what is stored, and deletes nothing', async () => {
    const before = await storedTrees()
    const { id, status } = await read('trees', 'port-maud-2026.csv')
    // The newer file: PM-0013 is new, PM-0006 is gone; botanical names are new on all; PM-0002 grew, PM-0010 moved.
    expect(status.counts).toMatchObject({ rows: 12, new: 1, gone: 1, changed: 11, same: 0 })
    const gone = (await officer('GET', `/imports/${id}/rows?change=gone`)).body
    expect(gone.rows.map((r: { sourceKey: string; line: null }) => [r.sourceKey, r.line])).toEqual([
      ['PM-0006', null],
    ])
    const changed = (await officer('GET', `/imports/${id}/rows?change=changed`)).body
    const of = (key: string) =>
      changed.rows.find((r: { sourceKey: string }) => r.sourceKey === key).differences
    expect(of('PM-0002')).toContainEqual({ field: 'stems', from: 51, to: 52 })
    expect(of('PM-0010').map((d: { field: string }) => d.field)).toContain('position')
    await commit(id)
    const after = await storedTrees()
    expect(after.size).toBe(13)
    expect(after.get('PM-0006')).toEqual(before.get('PM-0006'))
    expect(after.get('PM-0002')).toMatchObject({
      id: before.get('PM-0002')!.id,
      stemDiameterCm: 52,
      version: 2,
      species: 'Tilia cordata',
    })
    const third = await read('trees', 'port-maud-2026.csv')
    expect(third.status.counts).toMatchObject({ new: 0, changed: 0, same: 12 })
    await officer('POST', `/imports/${third.id}/cancel`)
  })

  it('refuses rows one by one, gives them back to be mended, and takes the mended file', async () => {
    const { id, status } = await read('trees', 'port-maud-bad-rows.csv')
    const codes = status.byCode.map((c: { code: string }) => c.code)
    for (const code of [
      'id-duplicate',
      'id-missing',
      'position-missing',
      'geometry-outside-world',
      'diameter-implausible',
      'height-implausible',
      'tag-repeated',
    ])
      expect(codes, code).toContain(code)
    expect(status.counts.refused).toBe(4)
    const refused = (await officer('GET', `/imports/${id}/rows?verdict=refused`)).body
    expect(refused.total).toBe(4)
    const csv = await officer('GET', `/imports/${id}/refused.csv`)
    const lines = (csv.body as string).trim().split('\r\n')
    expect(lines.length).toBe(5)
    expect(lines[0]).toMatch(/^Tree ID,Tag,Species,Diameter \(cm\),Height \(m\),Longitude,Latitude,Notes,/)
    const duplicates = (await officer('GET', `/imports/${id}/rows?code=id-duplicate`)).body
    expect(duplicates.rows.map((r: { line: number }) => r.line)).toEqual([6])

    const begun = (await upload('trees', 'mended.csv', Buffer.from(csv.body.replace(/-131\.67/, '-31.67'))))
      .body
    expect(begun.table.columns.map((c: { name: string }) => c.name).at(-1)).toBe('Notes')
    await officer('POST', `/imports/${begun.importId}/preview`, { mapping: status.mapping })
    await harness.deps.jobs.idle()
    const mended = (await officer('GET', `/imports/${begun.importId}`)).body
    expect(mended.counts).toMatchObject({ rows: 4, refused: 2 })
  })

  it('leaves nothing behind when cancelled, before and after reading', async () => {
    const { id } = await read('trees', 'port-maud-typed-headers.csv')
    const trees = (await storedTrees()).size
    expect((await officer('POST', `/imports/${id}/cancel`)).status).toBe(204)
    const { db } = harness.deps.database
    expect(await db.$count(tables.importRow, eq(tables.importRow.batchId, id))).toBe(0)
    const [batch] = await db.select().from(tables.importBatch).where(eq(tables.importBatch.id, id))
    expect(batch).toMatchObject({ state: 'cancelled', file: null })
    expect((await officer('POST', `/imports/${id}/commit`)).status).toBe(409)
    expect((await storedTrees()).size).toBe(trees)

    const { body: begun } = await upload('trees', 'port-maud-2025.csv')
    await officer('POST', `/imports/${begun.importId}/preview`, { mapping: begun.suggested })
    await officer('POST', `/imports/${begun.importId}/cancel`)
    await harness.deps.jobs.idle()
    expect((await officer('GET', `/imports/${begun.importId}`)).body.state).toBe('cancelled')
    expect(await db.$count(tables.importRow, eq(tables.importRow.batchId, begun.importId))).toBe(0)
  })

  it('begins a reading again after its process died half-way, with the same result', async () => {
    const { id, status } = await read('trees', 'port-maud-typed-headers.csv')
    const { db } = harness.deps.database
    const rowsOf = () =>
      db
        .select()
        .from(tables.importRow)
        .where(eq(tables.importRow.batchId, id))
        .orderBy(tables.importRow.line)
    const whole = await rowsOf()
    expect(whole.length).toBeGreaterThan(3)
    await db.execute(sql`delete from import_row where batch_id = ${id} and line > ${whole[1]!.line}`)
    await db
      .update(tables.importBatch)
      .set({ state: 'reading', counts: {} })
      .where(eq(tables.importBatch.id, id))
    await strand(harness, 'import-read', { importId: id }, id)
    const jobs = await createJobs(harness.deps.database, works(harness.deps))
    await jobs.idle()
    await jobs.close()
    expect(await rowsOf()).toEqual(whole)
    const after = (await officer('GET', `/imports/${id}`)).body
    expect({ ...after, jobId: null, progress: null }).toEqual({ ...status, jobId: null, progress: null })
    await officer('POST', `/imports/${id}/cancel`)
  })

  it('writes all or nothing: a fault in the last row leaves the inventory as it was, and a second try after a dead process writes once', async () => {
    const rows = Array.from(
      { length: 1200 },
      (_, i) => `K${i},Tilia cordata,${20 + (i % 50)},${-8.3 + i * 1e-5},-31.7`,
    )
    const file = Buffer.from(['id,species,diameter cm,longitude,latitude', ...rows].join('\n'))
    const { id } = await read('trees', 'many.csv', {}, file)
    const { db } = harness.deps.database
    const count = () => db.$count(tables.tree, sql`${tables.tree.sourceKey} like 'K%'`)
    await db.execute(
      sql`update import_row set record = jsonb_set(record, '{tag}', 'null') where batch_id = ${id} and line = 1201`,
    )
    const failed = await commit(id)
    expect(failed).toMatchObject({ state: 'failed', refusal: { code: 'internal-fault' } })
    expect(await count()).toBe(0)

    await db.execute(
      sql`update import_row set record = jsonb_set(record, '{tag}', '"K1199"') where batch_id = ${id} and line = 1201`,
    )
    await db.update(tables.importBatch).set({ state: 'writing' }).where(eq(tables.importBatch.id, id))
    await strand(harness, 'import-write', { importId: id, personId: 'officer-1' }, id)
    const jobs = await createJobs(harness.deps.database, works(harness.deps))
    await jobs.idle()
    await jobs.close()
    expect(await count()).toBe(1200)
    expect((await officer('GET', `/imports/${id}`)).body.state).toBe('done')
  })

  it('brings in zones and ground, and updates them from a newer file', async () => {
    const { id, status } = await read('zones', 'port-maud-zones.geojson')
    expect(status.state).toBe('ready')
    expect(status.counts.refused).toBeGreaterThan(0)
    const codes = status.byCode.map((c: { code: string }) => c.code)
    expect(codes).toContain('geometry-crosses-itself')
    expect(codes).toContain('geometry-no-area')
    await commit(id)
    const zones = (await officer('GET', '/zones')).body.zones
    expect(zones.length).toBe(status.counts.new)
    const bandstand = zones.find((z: { name: string }) => z.name === 'Bandstand')
    // Corners 8.0 m apart east and north: by hand from the degrees in the file, common practice, no source.
    expect(bandstand).toMatchObject({ kind: 'seating', version: 1 })
    expect(bandstand.areaM2).toBeGreaterThan(60)
    expect(bandstand.areaM2).toBeLessThan(68)
    const file = fixture('port-maud-zones.geojson').toString().replace('"Bandstand"', '"Old bandstand"')
    const newer = await read('zones', 'zones.geojson', {}, Buffer.from(file))
    expect(newer.status.counts).toMatchObject({ new: 0, changed: 1 })
    await commit(newer.id)
    const after = (await officer('GET', `/zones/${bandstand.id}`)).body.zone
    expect(after).toMatchObject({ name: 'Old bandstand', version: 2, areaM2: bandstand.areaM2 })

    const ground = await read('ground', 'port-maud-zones.geojson')
    await commit(ground.id)
    expect((await officer('GET', '/ground-features')).body.features.length).toBe(ground.status.counts.new)
  })

  it.each([
    ['an empty file', 'trees', 'empty.csv', '', 'file-empty'],
    ['a header without rows', 'trees', 'header-only.csv', null, 'file-header-only'],
    ['zones that are not GeoJSON', 'zones', 'zones.csv', 'name,x\na,1\n', 'file-not-this-format'],
  ])('refuses %s at the door', async (_, what, name, text, code) => {
    const answer = await upload(what, name, text === null ? fixture(name) : Buffer.from(text))
    expect([answer.status, answer.body.refusals[0].code]).toEqual([400, code])
  })

  it('refuses a file over 64 MiB, a mapping of other columns, an unknown reference system, and an inspector', async () => {
    const large = await upload('trees', 'large.csv', Buffer.alloc(65 * 1024 * 1024, 'a,b\n'))
    expect([large.status, large.body.refusals[0].code]).toEqual([413, 'too-large'])
    const { body: begun } = await upload('trees', 'port-maud-2025.csv')
    const refusedBy = async (mapping: object) =>
      (await officer('POST', `/imports/${begun.importId}/preview`, { mapping })).body.refusals[0]
    const { suggested } = begun
    expect(
      await refusedBy({ ...suggested, columns: { ...suggested.columns, Girth: 'circumference' } }),
    ).toMatchObject({ code: 'column-missing' })
    expect(await refusedBy({ ...suggested, crs: 'EPSG:999999' })).toMatchObject({ code: 'crs-unknown' })
    expect(await refusedBy({ ...suggested, diameterUnit: 'cubits' })).toMatchObject({
      path: 'mapping.diameterUnit',
    })
    const inspector = await harness.as('inspector')
    expect((await inspector('GET', `/imports/${begun.importId}`)).status).toBe(403)
  })
})

/** A job as a process that was killed leaves it: at work, with an old mark. */
async function strand({ deps, organisationId }: Harness, kind: string, input: object, subjectId: string) {
  await deps.database.db.insert(tables.job).values({
    organisationId,
    id: randomUUID(),
    kind,
    subjectId,
    state: 'working',
    input,
    startedBy: 'officer-1',
    startedAt: '2026-11-25T10:00:00Z',
    markedAt: '2026-11-25T10:00:00Z',
  })
}
