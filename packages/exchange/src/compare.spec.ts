import { readFileSync } from 'node:fs'
import { planeAt } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { compareWithStored } from './compare.ts'
import { suggestMapping } from './suggest.ts'
import { readTable } from './table.ts'
import { taken } from './testing.ts'
import { readTrees, type TreeReading } from './trees.ts'

async function read(name: string): Promise<TreeReading> {
  const bytes = readFileSync(new URL(`../../../fixtures/import/${name}`, import.meta.url))
  const table = taken(readTable(bytes, name))
  return taken(await readTrees(table, suggestMapping(table, { stemHeightM: 1.3, units: 'metric' }).mapping))
}

const stored = (reading: TreeReading) =>
  reading.rows.flatMap((row) => (row.tree ? [{ sourceKey: row.sourceKey!, tree: row.tree }] : []))

describe('a newer export beside the stored one', () => {
  it('finds new, changed, same and gone by the stable identifier', async () => {
    const [older, newer] = [await read('port-maud-2025.csv'), await read('port-maud-2026.csv')]
    const fields = newer.fields.filter((field) => field !== 'species')
    const result = compareWithStored(newer.rows, stored(older), fields)
    expect(result.new).toEqual(['PM-0013'])
    expect(result.gone).toEqual(['PM-0006'])
    expect(result.changed).toEqual([
      {
        sourceKey: 'PM-0010',
        line: 5,
        differences: [expect.objectContaining({ field: 'position', movedM: expect.closeTo(4, 1) })],
      },
      { sourceKey: 'PM-0002', line: 12, differences: [{ field: 'stems', from: 51, to: 52 }] },
    ])
    expect(result.same).toHaveLength(9)
    expect(result.same).toContain('PM-0001')
  })

  it('sees the botanical names that the newer file brings', async () => {
    const [older, newer] = [await read('port-maud-2025.csv'), await read('port-maud-2026.csv')]
    const { changed } = compareWithStored(newer.rows, stored(older), newer.fields)
    expect(changed).toHaveLength(11)
    expect(changed.at(-1)!.differences).toEqual([
      { field: 'species', from: 'Lime, small-leaved', to: 'Tilia cordata' },
    ])
  })

  it('does not lose what was measured here to a list that does not speak of it', async () => {
    const older = await read('port-maud-2025.csv')
    const measured = stored(older).map(({ sourceKey, tree }) => ({
      sourceKey,
      tree: { ...tree, heightM: 12, owner: 'Town' },
    }))
    expect(compareWithStored(older.rows, measured, older.fields).changed).toEqual([])
    expect(compareWithStored(older.rows, measured, [...older.fields, 'height']).changed).toHaveLength(12)
  })

  it.each([
    [0.29, 0],
    [0.31, 1],
  ])('takes a move of %d m for %d change', async (metres, changes) => {
    const older = await read('port-maud-2025.csv')
    const moved = stored(older).map(({ sourceKey, tree }, i) => ({
      sourceKey,
      tree:
        i > 0 ? tree : { ...tree, position: planeAt(...tree.position).toDegrees(metres * 0.6, metres * 0.8) },
    }))
    expect(compareWithStored(older.rows, moved, older.fields).changed).toHaveLength(changes)
  })

  it('does not call a tree gone whose row was refused, and lists rows without an identifier', async () => {
    const older = await read('port-maud-2025.csv')
    const rows = older.rows.map((row, i) =>
      i === 0
        ? { ...row, tree: null, verdict: 'refused' as const }
        : i === 1
          ? { ...row, sourceKey: null }
          : row,
    )
    const result = compareWithStored(rows, stored(older), older.fields)
    expect(result.unread).toEqual(['PM-0001'])
    expect(result.gone).toEqual(['PM-0002'])
    expect(result.keyless).toEqual([3])
  })
})
