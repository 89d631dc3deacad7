import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { suggestMapping } from './suggest.ts'
import { readTable } from './table.ts'
import { bytesOf, taken } from './testing.ts'
import { readTrees } from './trees.ts'
import { treesToCsv, treesToGeoJson, type WrittenTree } from './write.ts'

async function someTrees(): Promise<WrittenTree[]> {
  const bytes = readFileSync(new URL('../../../fixtures/import/port-maud-2026.csv', import.meta.url))
  const table = taken(readTable(bytes, 'a.csv'))
  const { rows } = taken(
    await readTrees(table, suggestMapping(table, { stemHeightM: 1.3, units: 'metric' }).mapping),
  )
  return rows.flatMap((row) => (row.tree ? [{ ...row.tree, sourceKey: row.sourceKey }] : []))
}

describe('trees written out', () => {
  it.each([
    ['trees.csv', treesToCsv],
    ['trees.geojson', treesToGeoJson],
  ])('come back from %s as they were', async (name, write) => {
    const trees = await someTrees()
    const table = taken(readTable(bytesOf(write(trees)), name))
    const { mapping } = suggestMapping(table, { stemHeightM: 1.3, units: 'metric' })
    const again = taken(await readTrees(table, mapping))
    expect(again.rows.map((row) => row.tree!.position)).toEqual(trees.map((tree) => tree.position))
    expect(again.rows.map((row) => row.tree!.stems)).toEqual(trees.map((tree) => tree.stems))
    expect(again.rows.map((row) => row.tree!.species)).toEqual(trees.map((tree) => tree.species))
    expect(again.rows.map((row) => row.sourceKey)).toEqual(trees.map((tree) => tree.sourceKey))
  })

  it('disarms text that a spreadsheet would run, and leaves numbers alone', async () => {
    const [tree] = await someTrees()
    for (const note of ['=1+1', '+cmd', '-cmd', '@sum', '\tx'])
      expect(treesToCsv([{ ...tree!, note }])).toContain(`'${note}`)
    expect(treesToCsv([{ ...tree!, position: [-8.25, -31.67] }])).toContain(',-8.25,-31.67')
  })
})
