import { existsSync, readFileSync } from 'node:fs'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { databases, type Harness, startHarness } from '../../apps/server/src/testing/harness.ts'

/** Map data © OpenStreetMap contributors, ODbL. Read where it lies beside the project; not part of it. */
const folder = new URL('../../../shared/data/monaco/', import.meta.url)

describe.skipIf(!existsSync(folder)).each(databases)(
  'open map data of a whole town, brought in over HTTP, on %s (skipped where ../shared/data is absent)',
  (kind) => {
    let harness: Harness
    beforeAll(async () => {
      harness = await startHarness(kind)
    })
    afterAll(() => harness?.close())

    const bringIn = async (what: 'trees' | 'zones' | 'ground', name: string) => {
      const officer = await harness.as('officer')
      const form = new FormData()
      form.set('kind', what)
      form.set('file', new File([readFileSync(new URL(name, folder))], name))
      const { body: begun } = await officer('POST', '/imports', form)
      await officer('POST', `/imports/${begun.importId}/preview`, { mapping: begun.suggested })
      await harness.deps.jobs.idle()
      const read = (await officer('GET', `/imports/${begun.importId}`)).body
      await officer('POST', `/imports/${begun.importId}/commit`)
      await harness.deps.jobs.idle()
      expect((await officer('GET', `/imports/${begun.importId}`)).body.state).toBe('done')
      return read.counts
    }

    it('has the trees near buildings and ways that GDAL finds', async () => {
      // Number of features in the files: `ogrinfo -so`.
      expect(await bringIn('trees', 'monaco.trees.geojson')).toMatchObject({
        rows: 208,
        refused: 0,
        new: 208,
      })
      expect(await bringIn('zones', 'monaco.buildings.geojson')).toMatchObject({
        rows: 966,
        refused: 0,
        new: 966,
      })
      expect(await bringIn('ground', 'monaco.ways.geojson')).toMatchObject({
        rows: 860,
        refused: 0,
        new: 860,
      })
      const near = async (table: 'zone' | 'ground_feature') => {
        const [row] = await harness.deps.database.db.execute<{ n: number }>(sql`
          select count(*)::int as n from tree t where exists (
            select from ${sql.identifier(table)} f
            where ST_DWithin(t.position::geography, f.geometry::geography, 10))`)
        return row!.n
      }
      // Distinct trees within 10 m, measured with GDAL in UTM zone 32N on the same files.
      expect(await near('zone')).toBe(51)
      expect(await near('ground_feature')).toBe(123)
    })
  },
)
