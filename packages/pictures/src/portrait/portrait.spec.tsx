import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { attributes, metreTicks, noBadNumbers, pathPoints } from '../draw/read-back.ts'
import { crownRing } from '../plan/plan.tsx'
import { crownEdges, withinCrown } from './crown.ts'
import { describePortrait, portraitCaption } from './describe.ts'
import { drawnOf } from './dimensions.ts'
import { frameOf } from './frame.ts'
import { habitOf } from './habit.ts'
import { limbsOf } from './limbs.ts'
import { TreePortrait } from './portrait.tsx'
import { habits, type PortraitFinding, type PortraitTarget, type PortraitTree } from './types.ts'

const beech: PortraitTree = {
  species: 'Fagus sylvatica',
  commonName: 'Beech',
  status: 'standing',
  heightM: 24.5,
  crownBaseHeightM: 5.2,
  crownRadiiM: { n: 7.2, e: 9.1, s: 8.4, w: 5.6 },
  lean: { bearingDeg: 102, angleDeg: 6 },
  stems: [{ diameterCm: 94, measuredAtM: 1.3 }],
  group: null,
}
const findings: PortraitFinding[] = [
  { number: 1, name: 'Bracket fungus', heightM: 0.4, bearingDeg: 232 },
  { number: 2, name: 'Opening', heightM: 2.1, bearingDeg: 111 },
]
const stand: PortraitTarget = {
  name: 'Bandstand',
  kind: 'seating',
  distanceM: 9.5,
  bearingDeg: 94,
  widthM: 6,
  heightM: 4.6,
}

const crownOf = (html: string) => pathPoints(attributes(html, 'data-part="crown"').d!)
const extent = (values: number[]) => [Math.min(...values), Math.max(...values)] as const

describe('scale', () => {
  it.each([300, 508, 900])(
    'draws the height and the crown as long as the metre rule says, %i px wide',
    (widthPx) => {
      const html = renderToStaticMarkup(<TreePortrait tree={{ ...beech, lean: null }} widthPx={widthPx} />)
      const ticks = metreTicks(html)
      const pxPerM = (ticks[0]!.y - ticks.at(-1)!.y) / (ticks.at(-1)!.m - ticks[0]!.m)
      const crown = crownOf(html)
      const [top, base] = extent(crown.map((p) => p[1]))
      const ground = ticks.find((tick) => tick.m === 0)!.y
      expect((ground - top!) / pxPerM).toBeCloseTo(24.5, 0)
      expect((ground - base!) / pxPerM).toBeCloseTo(5.2, 0)
      const [left, right] = extent(crown.map((p) => p[0]))
      const width = (right - left) / pxPerM
      expect(width).toBeGreaterThan(14.7 * 0.93)
      expect(width).toBeLessThan(14.7 * 1.01)
    },
  )

  it('puts the stem and the target at their true width and distance', () => {
    const drawn = drawnOf(beech)
    const frame = frameOf(drawn, stand, { widthPx: 508 })
    const html = renderToStaticMarkup(<TreePortrait tree={beech} target={stand} />)
    const measure = `M${Math.round(frame.footPx * 100) / 100} `
    const line = [...html.matchAll(/d="(M[^"]+)"/g)]
      .map((m) => m[1]!)
      .find((d) => {
        const [a, b] = pathPoints(d)
        return d.startsWith(measure) && a && b && a[1] === b[1] && d.split(/[ML]/).length === 3
      })
    const [from, to] = pathPoints(line!)
    expect((to![0] - from![0]) / frame.pxPerM).toBeCloseTo(9.5, 1)
  })

  it('keeps the recorded radii east and west of the foot on a leaning tree', () => {
    const drawn = drawnOf(beech)
    const edges = Array.from({ length: 400 }, (_, i) => crownEdges(drawn, i / 400))
    expect(Math.max(...edges.map((e) => e[1]))).toBeCloseTo(9.1, 0)
    expect(Math.min(...edges.map((e) => e[0]))).toBeCloseTo(-5.6, 0)
  })

  it('leans by the angle, seen from the south', () => {
    const east = drawnOf({ ...beech, lean: { bearingDeg: 90, angleDeg: 45 } })
    expect(east.axisM(10)).toBeCloseTo(10, 6)
    const north = drawnOf({ ...beech, lean: { bearingDeg: 0, angleDeg: 45 } })
    expect(north.axisM(10)).toBeCloseTo(0, 6)
  })

  it('has the four radii exactly in plan', () => {
    const ring = crownRing(drawnOf(beech))
    expect(ring[0]![1]).toBeCloseTo(7.2, 6)
    expect(ring[9]![0]).toBeCloseTo(9.1, 6)
    expect(ring[18]![1]).toBeCloseTo(-8.4, 6)
    expect(ring[27]![0]).toBeCloseTo(-5.6, 6)
  })

  it('keeps every branch within the crown, for every habit', () => {
    for (const habit of habits) {
      const drawn = drawnOf({ ...beech, habit })
      for (const limb of limbsOf(drawn, 417, 4)) expect(withinCrown(drawn, ...limb.to, 0.971)).toBe(true)
    }
  })
})

describe('odd trees', () => {
  const maybe = <T,>(arb: fc.Arbitrary<T>) => fc.option(arb, { nil: null })
  const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })
  const anyTree: fc.Arbitrary<PortraitTree> = fc.record({
    species: fc.constantFrom(
      'Fagus sylvatica',
      'Picea abies',
      'Salix babylonica',
      'Phoenix canariensis',
      "Populus nigra 'Italica'",
      '',
    ),
    commonName: maybe(fc.constant('Tree')),
    status: fc.constantFrom('standing', 'pole', 'stump', 'gone'),
    heightM: maybe(real(0.3, 60)),
    crownBaseHeightM: maybe(real(0, 80)),
    crownRadiiM: maybe(fc.record({ n: real(0, 20), e: real(0, 20), s: real(0, 20), w: real(0, 20) })),
    lean: maybe(fc.record({ bearingDeg: real(0, 359), angleDeg: real(0, 80) })),
    stems: fc.array(fc.record({ diameterCm: real(1, 400), measuredAtM: fc.constant(1.3) }), { maxLength: 7 }),
    group: maybe(fc.record({ count: fc.integer({ min: 2, max: 500 }) })),
  })
  const anyTarget = maybe(
    fc.record({
      name: fc.constant('Path'),
      kind: fc.constantFrom('building', 'road', 'footpath', 'play', 'seating', 'parking', 'utility'),
      distanceM: real(0, 70),
      bearingDeg: real(0, 359),
      widthM: real(0, 300),
      heightM: maybe(real(0, 40)),
    }),
  ) as fc.Arbitrary<PortraitTarget | null>
  const anyFinding = fc.record({
    number: fc.integer({ min: 1, max: 30 }),
    name: fc.constant('Crack'),
    heightM: maybe(real(0, 90)),
    bearingDeg: maybe(real(0, 359)),
    outM: maybe(real(0, 20)),
  })

  it('draws any of them without a number that is none', () => {
    fc.assert(
      fc.property(
        anyTree,
        anyTarget,
        fc.uniqueArray(anyFinding, { maxLength: 6, selector: (f) => f.number }),
        fc.boolean(),
        (tree, target, found, small) => {
          const html = renderToStaticMarkup(
            <TreePortrait
              tree={tree}
              target={target}
              findings={found}
              small={small}
              widthPx={320}
              maxHeightPx={300}
            />,
          )
          expect(noBadNumbers(html)).toBe(true)
          expect(drawnOf(tree).crownBaseM).toBeLessThan(drawnOf(tree).heightM)
          expect(html).toContain('aria-label="')
        },
      ),
      { numRuns: 150 },
    )
  })

  it('draws what is assumed broken, and says so', () => {
    const unmeasured = { ...beech, crownRadiiM: null, heightM: null }
    expect(
      attributes(renderToStaticMarkup(<TreePortrait tree={unmeasured} />), 'data-part="crown"')[
        'stroke-dasharray'
      ],
    ).toBe('5 3')
    expect(
      attributes(renderToStaticMarkup(<TreePortrait tree={beech} />), 'data-part="crown"')[
        'stroke-dasharray'
      ],
    ).toBeUndefined()
    expect(describePortrait({ tree: unmeasured })).toContain(
      'Not measured, so assumed: height and crown radii',
    )
  })
})

describe('words', () => {
  it('says every figure that is drawn', () => {
    const says = describePortrait({ tree: beech, findings, target: stand, reachM: 24.6 })
    for (const part of [
      '24.5 m high',
      '9.1 m to the east',
      '94 cm thick',
      'Leans 6° to 102°',
      '1 bracket fungus, 0.4 m up, facing 232°',
      'Bandstand, 9.5 m to the east',
      'reaches 24.6 m',
    ])
      expect(says).toContain(part)
  })
  it('sums the portrait up in a sentence', () => {
    expect(portraitCaption({ tree: beech, target: stand, reachM: 24.6 })).toBe(
      'Beech, 24.5 m high; Bandstand is 9.5 m away, within its reach of 24.6 m.',
    )
    expect(portraitCaption({ tree: beech, target: { ...stand, distanceM: 30 }, reachM: 24.6 })).toContain(
      'beyond its reach',
    )
  })
  it('knows weeping, columnar and conical forms, and does not take an epithet for a form', () => {
    expect(habitOf('Picea abies')).toBe('conical')
    expect(habitOf("Populus nigra 'Italica'")).toBe('columnar')
    expect(habitOf('Betula pendula')).toBe('round')
    expect(habitOf("Fraxinus excelsior 'Pendula'")).toBe('weeping')
    expect(habitOf('Phoenix canariensis')).toBe('palm')
  })
})
