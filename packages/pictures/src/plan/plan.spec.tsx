import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import type { Point } from '../draw/geometry.ts'
import { attributes, noBadNumbers, pathPoints } from '../draw/read-back.ts'
import type { PortraitTree } from '../portrait/types.ts'
import { clipRing, middleOf } from './clip.ts'
import { describePlan, type Footprint, planCaption } from './describe-plan.ts'
import { describeRose, type RoseFacts, roseCaption } from './describe-rose.ts'
import { FallPlan } from './plan.tsx'
import { FallRose } from './rose.tsx'

const tree: PortraitTree = {
  species: 'Fagus sylvatica',
  commonName: 'Beech',
  status: 'standing',
  heightM: 20,
  crownBaseHeightM: 5,
  crownRadiiM: { n: 6, e: 5, s: 4, w: 3 },
  lean: null,
  stems: [{ diameterCm: 60, measuredAtM: 1.3 }],
  group: null,
}
const square: Point[] = [
  [0, -4],
  [20, -4],
  [20, 4],
  [0, 4],
]
const footprint: Footprint = { ring: square, bearingDeg: 90, reachM: 20, because: 'on its lean' }
const zones = [
  {
    name: 'Loop path',
    kind: 'footpath' as const,
    ring: [
      [8, -30],
      [10, -30],
      [10, 30],
      [8, 30],
    ] as Point[],
  },
]

describe('plan', () => {
  it.each([320, 508])('draws the outline as long as its scale bar says, %i px wide', (widthPx) => {
    const html = renderToStaticMarkup(
      <FallPlan tree={tree} zones={zones} footprint={footprint} widthPx={widthPx} />,
    )
    const bar = attributes(html, 'data-scale-m')
    const pxPerM = Number(bar['data-scale-px']) / Number(bar['data-scale-m'])
    const xs = pathPoints(attributes(html, 'data-part="footprint"').d!).map((p) => p[0])
    expect((Math.max(...xs) - Math.min(...xs)) / pxPerM).toBeCloseTo(20, 1)
    const crown = pathPoints(attributes(html, 'data-part="crown"').d!)
    expect((Math.max(...crown.map((p) => p[1])) - Math.min(...crown.map((p) => p[1]))) / pxPerM).toBeCloseTo(
      10,
      0,
    )
  })

  it('cuts zones to the sheet and still names them', () => {
    const html = renderToStaticMarkup(<FallPlan tree={tree} zones={zones} footprint={footprint} />)
    expect(html).toContain('>Loop path</text>')
    const [w, h] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(html)!.slice(1).map(Number)
    const zone = pathPoints(attributes(html, '-footpath)" stroke').d!)
    for (const [x, y] of zone) {
      expect(x >= 0 && x <= w!).toBe(true)
      expect(y >= 0 && y <= h!).toBe(true)
    }
  })

  it('clips a ring to a window without leaving it', () => {
    const coordinate = fc.double({ min: -100, max: 100, noNaN: true })
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 9 }), (ring) => {
        const window = { west: -10, south: -20, east: 30, north: 40 }
        for (const [x, y] of clipRing(ring, window)) {
          expect(x).toBeGreaterThanOrEqual(-10 - 1e-6)
          expect(x).toBeLessThanOrEqual(30 + 1e-6)
          expect(y).toBeGreaterThanOrEqual(-20 - 1e-6)
          expect(y).toBeLessThanOrEqual(40 + 1e-6)
        }
      }),
    )
    expect(middleOf(square)).toEqual([10, 0])
  })

  it('says where, and that it says only where', () => {
    expect(describePlan({ tree, zones, footprint })).toContain(
      'falls on its lean, to 90° (east), reaching 20 m',
    )
    expect(describePlan({ tree, zones, footprint })).toContain('1 target zone about it: Loop path')
    expect(planCaption({ tree, zones, footprint })).toContain('It says where, not whether.')
  })
})

const rose: RoseFacts = {
  densityPerDeg: Array.from({ length: 72 }, (_, i) => (i === 18 ? 0.02 : 0.001)),
  zones: [
    { name: 'Bandstand', kind: 'seating', touchingBearings: [{ fromDeg: 51, toDeg: 137 }], touchShare: 0.71 },
  ],
  footprint,
  reachM: 20,
  leanBearingDeg: 90,
  people: { mean: 2.1, least: 0.7, most: 2.9 },
}

describe('rose', () => {
  it('swells most towards the likeliest bearing and holds the outline to the scale of its ring', () => {
    const html = renderToStaticMarkup(<FallRose {...rose} radiusPx={60} />)
    const ring = pathPoints(attributes(html, 'data-part="density"').d!.split('Z')[0]!)
    const [cx, cy] = [ring.reduce((a, p) => Math.min(a, p[0]), 1e9) + 0, 0]
    expect(cx).toBeGreaterThan(cy)
    const furthest = ring.reduce((a, b) => (b[0] > a[0] ? b : a))
    expect(ring.indexOf(furthest)).toBe(18)
    const xs = pathPoints(attributes(html, 'data-part="footprint"').d!).map((p) => p[0])
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(60, 1)
  })

  it('draws an arc for every run of touching bearings, and none for a zone out of reach', () => {
    const two = {
      ...rose.zones[0]!,
      touchingBearings: [
        { fromDeg: 350, toDeg: 380 },
        { fromDeg: 80, toDeg: 100 },
      ],
    }
    const arcs = (zones: RoseFacts['zones']) =>
      [
        ...renderToStaticMarkup(<FallRose {...rose} zones={zones} />).matchAll(
          /fill="url\(#[^)]*-seating\)"/g,
        ),
      ].length
    expect(arcs([two])).toBe(2)
    expect(arcs([{ ...two, touchingBearings: [] }])).toBe(0)
  })

  it('says bearings, shares and people', () => {
    const says = describeRose(rose)
    for (const part of [
      'most often to the east, about 90°',
      'Bandstand is touched from 51° to 137°, 71 of 100 falls',
      'on average 2.1 people within the outline, 0.7 to 2.9',
    ])
      expect(says).toContain(part)
    expect(roseCaption(rose)).toContain('71 of 100 falls would touch Bandstand')
    expect(describeRose({ ...rose, densityPerDeg: Array(72).fill(1 / 360) })).toContain(
      'every bearing is as likely as any other',
    )
  })

  it('draws whatever density and arcs it is given', () => {
    const at = fc.double({ min: 0, max: 359, noNaN: true })
    const arc = fc
      .tuple(at, fc.double({ min: 0.1, max: 360, noNaN: true }))
      .map(([fromDeg, span]) => ({ fromDeg, toDeg: fromDeg + span }))
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 8, maxLength: 72 }),
        fc.array(fc.array(arc, { maxLength: 3 }), { maxLength: 5 }),
        (densityPerDeg, lists) => {
          const html = renderToStaticMarkup(
            <FallRose
              {...rose}
              densityPerDeg={densityPerDeg}
              zones={lists.map((touchingBearings, i) => ({
                name: `Zone ${i}`,
                kind: 'road',
                touchingBearings,
              }))}
            />,
          )
          expect(noBadNumbers(html)).toBe(true)
        },
      ),
    )
  })
})
