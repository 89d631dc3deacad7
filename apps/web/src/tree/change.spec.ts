import 'fake-indexeddb/auto'
import { blankTree, type EntryBody, type Tree, treeInput } from '@underbough/model'
import { beforeEach, describe, expect, it, vi } from 'vitest'
import { device } from '../keep/index.ts'
import { keepChange } from './change.ts'

const at = '2026-11-25T09:00:00Z'
const tree: Tree = {
  ...blankTree({
    tag: '0417',
    species: 'Fagus sylvatica',
    commonName: 'Beech',
    position: [-14.355, -7.9451],
    positionAccuracyM: 4,
    stems: [{ diameterCm: 94, measuredAtM: 1.3 }],
    heightM: 24.5,
  }),
  id: crypto.randomUUID(),
  sourceKey: null,
  version: 3,
  createdAt: at,
  updatedAt: at,
}
const input = treeInput.parse(tree)
const changes = async () =>
  (await device.entries.orderBy('seq').toArray()).map(({ authorId, state, body }) => {
    const { version, tree } = body as EntryBody<'tree-change'>
    return [authorId, state, version, tree.heightM]
  })
// A browser without locks: nothing else runs in this one.
vi.stubGlobal('navigator', {})
beforeEach(() => device.entries.clear())

describe('a change of a record without signal', () => {
  it('is kept with the version it was made from, and a later one takes its place', async () => {
    await keepChange(tree, { ...input, heightM: 25 }, 'l.sand')
    await keepChange(tree, { ...input, heightM: 26 }, 'l.sand')
    expect(await changes()).toEqual([['l.sand', 'waiting', 3, 26]])
  })

  it('leaves that of somebody else on the same phone alone', async () => {
    await keepChange(tree, { ...input, heightM: 25 }, 'l.sand')
    await keepChange(tree, { ...input, heightM: 26 }, 'r.vane')
    expect(await changes()).toEqual([
      ['l.sand', 'waiting', 3, 25],
      ['r.vane', 'waiting', 3, 26],
    ])
  })

  it('begins from what the office answered last, so that a person never stands against themselves', async () => {
    await keepChange(tree, { ...input, heightM: 25 }, 'l.sand')
    await device.entries.toCollection().modify({ state: 'sent', answer: { ...tree, version: 4 } })
    await keepChange(tree, { ...input, heightM: 26 }, 'l.sand')
    expect((await changes())[1]).toEqual(['l.sand', 'waiting', 4, 26])
    // A version that stands beside the stored one is not on record: it tells nothing of the stored one.
    await device.entries.clear()
    await keepChange(tree, { ...input, heightM: 25 }, 'l.sand')
    await device.entries.toCollection().modify({ state: 'sent', beside: true, answer: { version: 9 } })
    await keepChange(tree, { ...input, heightM: 26 }, 'l.sand')
    expect((await changes())[1]).toEqual(['l.sand', 'waiting', 3, 26])
  })

  it('takes nothing back that an earlier change put on record, though the page still shows the older record', async () => {
    await keepChange(tree, { ...input, heightM: 25 }, 'l.sand')
    await device.entries
      .toCollection()
      .modify({ state: 'sent', answer: { ...tree, heightM: 25, version: 4 } })
    await keepChange(tree, { ...input, note: 'a cavity' }, 'l.sand')
    const body = (await device.entries.orderBy('seq').last())!.body as EntryBody<'tree-change'>
    expect([body.version, body.tree.heightM, body.tree.note]).toEqual([4, 25, 'a cavity'])
  })
})
