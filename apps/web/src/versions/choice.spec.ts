import { blankTree, type Tree, type TreeInput, treeInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { type Beside, fieldsApart, stillOpen, whole } from './choice.ts'

const input = blankTree({
  tag: '0417',
  species: 'Fagus sylvatica',
  commonName: 'Beech',
  position: [-14.355, -7.9451],
  positionAccuracyM: 4,
  stems: [{ diameterCm: 94, measuredAtM: 1.3 }],
  heightM: 24.5,
  crownRadiiM: { n: 7.2, e: 9.1, s: 8.4, w: 5.6 },
})
const besideOf = (stored: Partial<TreeInput>, offered: Partial<TreeInput>): Beside => {
  const at = '2026-11-25T09:00:00Z'
  const id = crypto.randomUUID()
  return {
    stored: { ...input, ...stored, id, sourceKey: null, version: 3, createdAt: at, updatedAt: at } as Tree,
    version: {
      id: crypto.randomUUID(),
      kind: 'tree',
      subjectId: id,
      fromVersion: 2,
      offered: treeInput.parse({ ...input, ...offered }),
      personName: 'L. Sand',
      madeAt: at,
      receivedAt: at,
      state: 'open',
      chosenBy: null,
      chosenAt: null,
    },
  }
}

describe('two versions of one tree', () => {
  it('are apart in what differs, whatever order their parts came in', () => {
    const radii = { w: 5.6, s: 8.4, e: 9.1, n: 7.2 }
    expect(fieldsApart(besideOf({}, { crownRadiiM: radii }))).toEqual([])
    expect(fieldsApart(besideOf({ heightM: 25 }, { heightM: 26, note: 'Bees', crownRadiiM: radii }))).toEqual(
      ['heightM', 'note'],
    )
  })

  it('ask for a word on each field before anything is written', () => {
    const fields = fieldsApart(besideOf({ heightM: 25 }, { heightM: 26, note: 'Bees' }))
    expect(stillOpen(fields, { heightM: 'stored' })).toEqual(['note'])
    expect(stillOpen(fields, whole(fields, 'offered'))).toEqual([])
    expect(whole(fields, 'offered')).toEqual({ heightM: 'offered', note: 'offered' })
  })
})
