import type { Feature, FeatureCollection, Polygon } from 'geojson'
import { describe, expect, it } from 'vitest'
import { contains } from './area.ts'
import { nameFeatures, shores, zoneNameFeatures } from './names.ts'

type Named = { kind: string; name: string | null }
const box = (w: number, s: number, e: number, n: number): Polygon => ({
  type: 'Polygon',
  coordinates: [
    [
      [w, s],
      [e, s],
      [e, n],
      [w, n],
      [w, s],
    ],
  ],
})
const feature = (kind: string, geometry: Polygon, name: string | null = null): Feature<Polygon, Named> => ({
  type: 'Feature',
  properties: { kind, name },
  geometry,
})
const ground = (...features: Feature<Polygon, Named>[]): FeatureCollection<Polygon, Named> => ({
  type: 'FeatureCollection',
  features,
})

// Shapes small enough to be judged by eye; common practice of map drawing, no source.
describe('the shore', () => {
  const island = feature('land', box(2, 2, 8, 8), 'Island')
  const sea = feature('water', box(8, 0, 20, 10), 'Sound')
  const pond = feature('water', box(4, 4, 5, 5), 'Pond')

  it('follows the land, not the cuts of the sea', () => {
    expect(shores(ground(island, sea, pond))).toMatchObject({
      coast: [{ geometry: island.geometry }],
      ponds: [pond],
    })
  })
  it('follows the water where no land is drawn', () => {
    expect(shores(ground(sea)).ponds).toEqual([sea])
  })
})

describe('a name', () => {
  it('stands well inside its area, even where the middle of the box is outside it', () => {
    const bent: Polygon = {
      type: 'Polygon',
      coordinates: [
        [
          [0, 0],
          [10, 0],
          [10, 2],
          [2, 2],
          [2, 10],
          [0, 10],
          [0, 0],
        ],
      ],
    }
    const [label] = nameFeatures(ground(feature('green', bent, 'Green'))).features
    expect(label?.geometry.type).toBe('Point')
    if (label?.geometry.type === 'Point') expect(contains(bent, label.geometry.coordinates)).toBe(true)
  })
  it('is not written for what has none, nor for kinds that say themselves', () => {
    expect(
      nameFeatures(ground(feature('green', box(0, 0, 1, 1)), feature('building', box(0, 0, 1, 1), 'Hall')))
        .features,
    ).toEqual([])
  })
  it('of a zone is written once, in the largest piece its tiles cut', () => {
    const piece = (geometry: Polygon) => ({ id: 'z', kind: 'play', name: 'Play ground', geometry })
    const written = zoneNameFeatures([
      piece(box(0, 0, 1, 1)),
      piece(box(1, 0, 6, 4)),
      { ...piece(box(0, 0, 9, 9)), id: 'r', kind: 'road' },
    ])
    expect(written).toHaveLength(1)
    const [label] = written
    if (label?.geometry.type === 'Point')
      expect(contains(box(1, 0, 6, 4), label.geometry.coordinates)).toBe(true)
  })
})
