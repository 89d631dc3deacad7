import type { Tree, TreeInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import type { TreeExposureView } from '../api/index.ts'
import { digestOf, sayDigest } from '../photos/digest.ts'
import { changedFields, differences, merged } from './conflict.ts'
import { footprintOf, sayAngle, sayPosition, sayStems } from './facts.ts'
import { sayField } from './fieldWords.ts'

describe('a place in words', () => {
  // One degree is 60 minutes; a minute that rounds up carries (arithmetic).
  it('is degrees and minutes with the half of the world', () => {
    expect(sayAngle(-31.5, 'N', 'S')).toBe('31° 30.000′ S')
    expect(sayAngle(8.9999999, 'E', 'W')).toBe('9° 0.000′ E')
    expect(sayPosition([-8.25, 31.0125])).toBe('31° 0.750′ N, 8° 15.000′ W')
  })
})

describe('stems in words', () => {
  // 30² + 40² = 50² (Pythagoras); the combination √Σd² is common practice, no source.
  it('are named one by one and together', () => {
    const stem = (diameterCm: number) => ({ diameterCm, measuredAtM: 1.3 })
    expect(sayStems({ stems: [] })).toBe('not measured')
    expect(sayStems({ stems: [stem(94)] })).toBe('94 cm at 1.3 m')
    expect(sayStems({ stems: [stem(30), stem(40)] })).toBe('2 stems: 30, 40 cm at 1.3 m; together as 50 cm')
  })
})

describe('the footprint', () => {
  const at = (outlineBearingDeg: number) =>
    footprintOf(
      { position: [0, 0], lean: { bearingDeg: 355, angleDeg: 4 }, clearingBearingDeg: 90 } as Tree,
      {
        outlineBearingDeg,
        outline: [
          [0, 0],
          [0.0001, 0],
          [0, 0.0002],
        ],
      } as unknown as TreeExposureView,
    )
  it('says why this way is drawn, round north too', () => {
    expect([at(5).because, at(95).because, at(200).because]).toEqual([
      'on its lean',
      'towards the clearing',
      'on its likeliest bearing',
    ])
  })
  // 0.0002° of latitude at the equator is 22.11 m by the WGS84 meridian radius a(1 − e²) = 6 335 439 m.
  it('reaches as far as its furthest point', () => {
    expect(at(5).reachM).toBeCloseTo((0.0002 * Math.PI * 6335439) / 180, 2)
  })
})

describe('two people, one tree', () => {
  const base = {
    tag: '0417',
    heightM: 24,
    note: '',
    stems: [{ diameterCm: 94, measuredAtM: 1.3 }],
  } as unknown as TreeInput
  it('keeps each one’s change and asks where both changed', () => {
    const mine = { ...base, heightM: 25, note: 'Mine' }
    const theirs = { ...base, heightM: 26, stems: [{ measuredAtM: 1.3, diameterCm: 95 }] } as TreeInput
    const rows = differences(base, mine, theirs)
    expect(rows.map((r) => [r.field, r.choice])).toEqual([
      ['heightM', 'mine'],
      ['note', 'mine'],
      ['stems', 'theirs'],
    ])
    expect(merged(theirs, rows)).toEqual({ ...theirs, heightM: 25, note: 'Mine' })
    expect(
      merged(
        theirs,
        rows.map((r) => ({ ...r, choice: 'theirs' as const })),
      ),
    ).toEqual(theirs)
  })
  it('does not take another order of the same parts for a change', () => {
    const turned = { ...base, stems: [{ measuredAtM: 1.3, diameterCm: 94 }] } as TreeInput
    expect(changedFields(base, turned)).toEqual([])
    expect(sayField('heightM', null)).toBe('not known')
  })
})

describe('a digest', () => {
  // FIPS 180-4, SHA-256 of "abc": the standard's own example.
  it('is SHA-256 of the bytes', async () => {
    const abc = new TextEncoder().encode('abc')
    const digest = await digestOf(abc.buffer as ArrayBuffer)
    expect(digest).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
    expect(sayDigest(digest)).toBe('ba7816bf 8f01cfea 414140de 5dae2223 b00361a3 96177a9c b410ff61 f20015ad')
  })
})
