import { describe, expect, it } from 'vitest'
import type { TreeAlong } from '../api/index.ts'
import { foundAlong } from './along.ts'

const tree = (tag: string, species: string, commonName: string | null, dueOn: string | null): TreeAlong => ({
  id: tag,
  tag,
  species,
  commonName,
  position: [-8.25, -31.67],
  status: 'standing',
  risk: null,
  seen: true,
  dueOn,
})
const trees = [
  tree('0417', 'Fagus sylvatica', 'Beech', '2026-11-20'),
  tree('0418', 'Quercus robur', null, '2026-12-24'),
  tree('1041', 'Tilia cordata', 'Small-leaved lime', null),
]
const tagsOf = (words: string) => foundAlong(trees, words, '2026-11-25').map(({ tag }) => tag)

describe('trees along the way, without signal', () => {
  it('are found by any part of tag, species or name, in large letters or small', () => {
    expect(tagsOf('041')).toEqual(['0417', '0418', '1041'])
    expect(tagsOf('QUERCUS')).toEqual(['0418'])
    expect(tagsOf('lime')).toEqual(['1041'])
    expect(tagsOf('palm')).toEqual([])
  })
  it('say how late they are on the day', () => {
    expect(foundAlong(trees, '', '2026-11-25').map(({ overdueDays }) => overdueDays)).toEqual([5, 0, 0])
  })
})
