import 'fake-indexeddb/auto'
import { blankTree, type FoundTreeInput } from '@underbough/model'
import { beforeEach, describe, expect, it } from 'vitest'
import { device, enter } from '../keep/device.ts'
import { foundHere } from './found.ts'
import { sayTimeZone } from './kept.ts'

const id = crypto.randomUUID()
const found = (fallen: FoundTreeInput['fallen']): FoundTreeInput => ({
  id,
  tree: blankTree({
    tag: 'A1125-1',
    species: 'Quercus robur',
    position: [-8.25, -31.67],
    positionAccuracyM: 5,
  }),
  stop: null,
  fallen,
})
const about = { authorId: 'sand', subjectId: id, treeId: id, label: 'New tree' }
beforeEach(() => device.entries.clear())

describe('a tree that was met on the way, on its device', () => {
  it('is answered from its entry, in the version in which the office will store it first', async () => {
    expect(await foundHere(id)).toBeNull()
    await enter('found-tree', found(null), about)
    const whole = await foundHere(id)
    expect(whole).toMatchObject({ onlyHere: true, seen: false, visits: [], due: null })
    expect(whole?.tree).toMatchObject({ id, tag: 'A1125-1', status: 'standing', version: 1 })
  })

  // The office does the same: apps/server/src/entries/found.api.spec.ts.
  it('stands no more where the whole tree was found fallen, on the civil day of the site; a limb leaves it', async () => {
    sayTimeZone('Pacific/Kiritimati')
    await enter('found-tree', found({ failureId: crypto.randomUUID(), part: 'whole-tree', lies: 90 }), about)
    await device.entries.toCollection().modify({ madeAt: '2026-11-25T23:00:00.000Z' })
    expect((await foundHere(id))?.tree).toMatchObject({ status: 'gone', goneOn: '2026-11-26' })
    await device.entries.clear()
    await enter('found-tree', found({ failureId: crypto.randomUUID(), part: 'limb', lies: null }), about)
    expect((await foundHere(id))?.tree).toMatchObject({ status: 'standing', goneOn: null })
  })
})
