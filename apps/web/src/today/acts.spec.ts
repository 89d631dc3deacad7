import 'fake-indexeddb/auto'
import { blankTree, type EntryBody, type ScenarioPart, type Tree } from '@underbough/model'
import { beforeEach, describe, expect, it, vi } from 'vitest'
import type { Me, TreeRow } from '../api/index.ts'
import { device } from '../keep/index.ts'
import { keepChange } from '../tree/change.ts'
import { foundFallen } from './acts.ts'

const me = { personId: 'sand', organisation: { timeZone: 'Atlantic/St_Helena' } } as unknown as Me
const at = '2026-11-25T09:00:00Z'
const record: Tree = {
  ...blankTree({
    tag: '0417',
    species: 'Fagus sylvatica',
    commonName: 'Beech',
    position: [-8.25, -31.67],
    positionAccuracyM: 4,
    heightM: 24.5,
  }),
  id: crypto.randomUUID(),
  sourceKey: null,
  version: 3,
  createdAt: at,
  updatedAt: at,
}
const fall = (part: ScenarioPart, of: Tree | null = record) =>
  foundFallen(me, {
    failureId: crypto.randomUUID(),
    tree: record as unknown as TreeRow,
    record: of,
    part,
    lies: null,
  })
const kinds = async () => (await device.entries.orderBy('seq').toArray()).map(({ kind }) => kind)
const change = async () => (await device.entries.orderBy('seq').last())!.body as EntryBody<'tree-change'>

// A browser without locks: nothing else runs in this one.
vi.stubGlobal('navigator', {})
beforeEach(() => device.entries.clear())

describe('a known tree that was found fallen', () => {
  it('is gone in its record where the whole tree lies, from the day it was found on', async () => {
    await fall('whole-tree')
    expect(await kinds()).toEqual(['failure', 'tree-change'])
    const failure = (await device.entries.orderBy('seq').first())!.body as EntryBody<'failure'>
    expect(await change()).toMatchObject({ version: 3, tree: { status: 'gone', goneOn: failure.on } })
  })

  it('keeps what its person changed before and has not sent', async () => {
    await keepChange(record, { ...record, heightM: 26 }, 'sand')
    await fall('whole-tree')
    expect(await change()).toMatchObject({ version: 3, tree: { status: 'gone', heightM: 26 } })
    expect(await kinds()).toEqual(['failure', 'tree-change'])
  })

  it('keeps its record where a part broke, where it is a stump, and where this device has no record of it', async () => {
    await fall('limb')
    await fall('stem')
    await fall('whole-tree', { ...record, status: 'stump' })
    await fall('whole-tree', null)
    expect(await kinds()).toEqual(['failure', 'failure', 'failure', 'failure'])
  })
})
