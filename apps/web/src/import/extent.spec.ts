import { describe, expect, it } from 'vitest'
import { apartKm, type Box, boxOf, frameOf, inFrame, looksSwapped, pagesAcross } from './extent.ts'

const around = (lon: number, lat: number, half = 0.01): Box => [
  lon - half,
  lat - half,
  lon + half,
  lat + half,
]

describe('where the rows fall', () => {
  it('measures how far apart two places are', () => {
    // Paris to London, great circle: 343.6 km on the WGS84 ellipsoid (distance and coordinates of the two city centres
    // from memory). A sphere is good to half a per cent.
    const km = apartKm(around(2.3522, 48.8566), around(-0.1276, 51.5072))
    expect(km).toBeGreaterThan(343.6 * 0.995)
    expect(km).toBeLessThan(343.6 * 1.005)
    // A quarter of a meridian is 10,002 km by the first definition of the metre, give or take the flattening.
    expect(apartKm(around(0, 0), around(0, 90))).toBeCloseTo(10_007.5, 0)
  })
  it('knows exchanged axes by the ground they would fall on', () => {
    const ground = around(-8.245, -31.67)
    expect(looksSwapped(around(-31.67, -8.245), ground)).toBe(true)
    expect(looksSwapped(ground, ground)).toBe(false)
    expect(looksSwapped(around(11.6, 48.1), ground)).toBe(false)
  })
  it('draws to scale: north up, east right, one scale both ways', () => {
    const frame = frameOf([-8.25, -31.68, -8.24, -31.66], 460, 320)
    const [x, y] = frame.place([-8.245, -31.67])
    expect(x).toBeCloseTo(230, 6)
    expect(y).toBeCloseTo(160, 6)
    expect(frame.place([-8.244, -31.67])[0]).toBeGreaterThan(230)
    expect(frame.place([-8.245, -31.669])[1]).toBeLessThan(160)
    // One minute of latitude is a nautical mile, 1852 m (definition), near enough anywhere to half a per cent.
    const minute = 160 - frame.place([-8.245, -31.67 + 1 / 60])[1]
    expect(Math.abs(minute * frame.metresPerPx - 1852)).toBeLessThan(10)
    // Everything stays inside the margin.
    for (const corner of [
      [-8.25, -31.68],
      [-8.24, -31.66],
    ] as [number, number][]) {
      const [cx, cy] = frame.place(corner)
      expect(cx >= 13 && cx <= 447 && cy >= 13 && cy <= 307).toBe(true)
    }
  })
  it('leaves stray rows out of the drawing while most fall on the ground, and none when most do not', () => {
    const ground = around(-8.245, -31.67)
    const at = (lon: number, lat: number) => ({ box: around(lon, lat, 0) })
    const near = [at(-8.244, -31.671), at(-8.246, -31.669)]
    expect(inFrame([...near, at(8.25, 31.67)], ground)).toEqual(near)
    const strays = [at(8.25, 31.67), at(8.26, 31.67), at(-8.244, -31.671)]
    expect(inFrame(strays, ground)).toEqual(strays)
    expect(inFrame(strays, null)).toEqual(strays)
  })
  it('gives a single point room', () => {
    expect(frameOf(around(0, 50, 0), 460, 320).metresPerPx).toBeGreaterThan(0.1)
    expect(boxOf([])).toBeNull()
  })
  it('takes its sample from all over the file', () => {
    expect(pagesAcross(0, 100, 10)).toEqual([1])
    expect(pagesAcross(950, 100, 10)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])
    const many = pagesAcross(180_000, 100, 10)
    expect(many.length).toBe(10)
    expect(many[0]).toBe(1)
    expect(Math.max(...many)).toBeGreaterThan(1600)
    expect(Math.max(...many)).toBeLessThanOrEqual(1800)
  })
})
