import { describe, expect, it } from 'vitest'
import { labelStep, letters, scaleStep, squaresOver } from './squares.ts'

// Lengths of a degree from the WGS84 radii of curvature, as tabulated in Snyder, "Map Projections: A Working Manual",
// USGS Professional Paper 1395 (1987), table of lengths of a degree; the equator's 111 320 m of longitude from memory.
const metresPerDegreeAtEquator = 111_320

describe('squares of the ground', () => {
  const deg = 1 / metresPerDegreeAtEquator
  const ground = squaresOver([0, 0, 580 * deg, 380 * deg])

  it('are 100 m on a park of a few hundred metres, lettered from the west and numbered from the north', () => {
    expect(ground.sideM).toBe(100)
    expect([ground.columns, ground.rows]).toEqual([6, 4])
    expect(ground.squareOf(10 * deg, 370 * deg)).toBe('A1')
    expect(ground.squareOf(250 * deg, 250 * deg)).toBe('C2')
    expect(ground.squareOf(570 * deg, 20 * deg)).toBe('F4')
  })

  it('say nothing outside the ground rather than a wrong square', () => {
    expect(ground.squareOf(-5 * deg, 100 * deg)).toBeNull()
    expect(ground.squareOf(100 * deg, 390 * deg)).toBeNull()
  })

  it('agree with their own edges', () => {
    for (let column = 0; column < ground.columns; column++) {
      const middle = (ground.westOf(column) + ground.westOf(column + 1)) / 2
      const lat = (ground.northOf(1) + ground.northOf(2)) / 2
      expect(ground.squareOf(middle, lat)).toBe(`${letters(column)}2`)
    }
  })

  it('grow with the ground, so that one letter is enough', () => {
    const town = squaresOver([10, 51, 10.2, 51.1])
    expect(town.sideM).toBe(1000)
    expect(town.columns).toBeLessThanOrEqual(26)
  })
})

describe('labels', () => {
  it('go on after Z', () => {
    expect([0, 25, 26, 27, 51, 52, 701, 702].map(letters)).toEqual([
      'A',
      'Z',
      'AA',
      'AB',
      'AZ',
      'BA',
      'ZZ',
      'AAA',
    ])
  })
  it('stand apart', () => {
    expect(labelStep(160, 60)).toBe(1)
    expect(labelStep(31, 60)).toBe(2)
    expect(labelStep(3, 60)).toBe(20)
  })
})

describe('the scale bar', () => {
  it('has round parts no longer than asked', () => {
    expect(scaleStep(0.6, 90)).toBe(25)
    expect(scaleStep(1.27, 90)).toBe(50)
    expect(scaleStep(10, 90)).toBe(250)
    for (const m of [0.03, 0.7, 3, 42, 900]) expect((2 * scaleStep(m, 90)) / m).toBeLessThanOrEqual(90)
  })
})
