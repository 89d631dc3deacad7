import { readFileSync } from 'node:fs'
import { type AreaGeometry, groundFeatureInput, planeAt, zoneInput } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { readGround } from './ground.ts'
import { isSimple, signedArea } from './rings.ts'
import { bytesOf, codesOf, featuresBytes, outcomeCodes, taken, zoneMappingWith } from './testing.ts'
import { readZones } from './zones.ts'

const bytes = readFileSync(new URL('../../../fixtures/import/port-maud-zones.geojson', import.meta.url))
const groundMapping = { nameColumn: 'name', kindColumn: null, kind: 'green', crs: 'WGS84' } as const
const plane = planeAt(-8.25, -31.67)
const ringsM = (geometry: AreaGeometry) =>
  (geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates).map((rings) =>
    rings.map((ring) => ring.map(([lon, lat]) => plane.toMetres(lon, lat))),
  )
const areaM2 = (geometry: AreaGeometry) =>
  ringsM(geometry)
    .flat()
    .reduce((sum, ring) => sum + signedArea(ring), 0)

/** A line in metres around the plane's origin, read as a zone of a width. */
async function zoneOfLine(line: [number, number][], lineWidthM: number) {
  const coordinates = line.map(([x, y]) => plane.toDegrees(x, y))
  const feature = { properties: { highway: 'footway' }, geometry: { type: 'LineString', coordinates } }
  return taken(await readZones(featuresBytes(feature), zoneMappingWith({ lineWidthM }))).rows[0]!.value!
}

describe('zones from a file', () => {
  it('says of each feature what became of it', async () => {
    const reading = taken(await readZones(bytes, zoneMappingWith()))
    expect(reading.rows.map((r) => [r.raw.name, r.value?.kind ?? null, codesOf(r.notes).join(' ')])).toEqual([
      ['Bandstand', 'seating', ''],
      ['Kirk Walk', 'footpath', ''],
      ['Harbour Road', 'road', ''],
      ['School', 'building', ''],
      ['Slipped corner', null, 'geometry-crosses-itself'],
      ['No ground', null, 'geometry-no-area'],
      ['Not closed', 'parking', 'geometry-ring-closed'],
      ['With heights', 'seating', ''],
      ['In metres', null, 'geometry-outside-world'],
      ['Fountain court', 'seating', 'kind-assumed'],
      ['A bench', null, 'geometry-wrong-kind'],
      ['Nothing drawn', null, 'geometry-empty'],
    ])
    expect(codesOf(reading.notes)).toEqual(['geometry-ring-turned', 'geometry-height-dropped'])
    for (const { value } of reading.rows) if (value) expect(zoneInput.safeParse(value).error).toBeUndefined()
  })

  it('turns outer rings anticlockwise and holes clockwise (RFC 7946, section 3.1.6)', async () => {
    const reading = taken(await readZones(bytes, zoneMappingWith()))
    for (const { value } of reading.rows)
      for (const rings of value ? ringsM(value.geometry) : [])
        expect(rings.map((ring) => Math.sign(signedArea(ring)))).toEqual(
          rings.map((_, i) => (i === 0 ? 1 : -1)),
        )
    const school = reading.rows.find((r) => r.raw.name === 'School')!.value!
    expect(areaM2(school.geometry)).toBeCloseTo(30 * 20 - 5 * 5, -1)
  })

  it('gives a place people by its ground: a large one more than a small one, each at least one, none beyond the most', async () => {
    // Assumption, no source: that the share of a building under a fall, and not its smallness, decides its place in a ranking.
    const square = (sideDeg: number) => ({
      type: 'Polygon',
      coordinates: [
        [
          [0, 0],
          [sideDeg, 0],
          [sideDeg, sideDeg],
          [0, sideDeg],
          [0, 0],
        ],
      ],
    })
    const features = [0.00001, 0.0002, 0.0004, 0.01].map((side) => ({
      properties: { building: 'yes' },
      geometry: square(side),
    }))
    const reading = taken(await readZones(featuresBytes(...features), zoneMappingWith()))
    const people = reading.rows.map(({ value }) =>
      value!.occupancy.kind === 'class' ? value!.occupancy.peopleWhenPresent : null,
    )
    const [least, small, large, most] = people as number[]
    expect([least, most]).toEqual([1, 200])
    // Four times the ground, four times the people, to one person's rounding.
    expect(Math.abs(large! / small! - 4)).toBeLessThan(0.3)
  })

  it('lets the kind column speak before the tags', async () => {
    const geometry = {
      type: 'Polygon',
      coordinates: [
        [
          [0, 0],
          [0.001, 0],
          [0.001, 0.001],
          [0, 0],
        ],
      ],
    }
    const words = [
      'Spielplatz',
      'Gehweg',
      'stationnement',
      'Gebäude',
      'calle',
      'speelplaats',
      'nothing known',
    ]
    const features = words.map((art) => ({ properties: { art, building: 'yes' }, geometry }))
    const reading = taken(await readZones(featuresBytes(...features), zoneMappingWith({ kindColumn: 'art' })))
    expect(reading.rows.map((r) => r.value!.kind)).toEqual([
      'play',
      'footpath',
      'parking',
      'building',
      'road',
      'play',
      'building',
    ])
  })

  it.each([
    ['', 'file-empty'],
    ['not json', 'file-not-this-format'],
    ['{"type":"FeatureCollection","features":[]}', 'file-header-only'],
  ])('refuses %j with %s', async (text, code) => {
    expect(outcomeCodes(await readZones(bytesOf(text), zoneMappingWith()))).toEqual([code])
  })
})

describe('a line with a width', () => {
  it('is a rectangle with flat ends when it is straight', async () => {
    const zone = await zoneOfLine(
      [
        [0, 0],
        [100, 0],
      ],
      6,
    )
    expect(areaM2(zone.geometry)).toBeCloseTo(600, 0)
    expect(zone.fromLine).toMatchObject({ widthM: 6, line: { type: 'LineString' } })
  })

  it('has an area of length times width in a right-angled mitred bend', async () => {
    const zone = await zoneOfLine(
      [
        [0, 0],
        [50, 0],
        [50, 50],
      ],
      6,
    )
    expect(areaM2(zone.geometry)).toBeCloseTo(600, 0)
  })

  it.each([
    [
      'crosses itself',
      [
        [0, 0],
        [40, 0],
        [40, 30],
        [20, 30],
        [20, -20],
      ],
      6,
      1,
    ],
    [
      'turns back on itself',
      [
        [0, 0],
        [50, 0],
        [5, 1],
      ],
      6,
      0,
    ],
    [
      'is a ring',
      [
        [0, 0],
        [60, 0],
        [60, 60],
        [0, 60],
        [0, 0],
      ],
      8,
      1,
    ],
    [
      'has steps shorter than its width',
      [
        [0, 0],
        [1, 1],
        [2, 0],
        [3, 1],
        [20, 0],
      ],
      8,
      0,
    ],
    [
      'is wider than it is long',
      [
        [0, 0],
        [2, 0],
        [2, 2],
      ],
      30,
      0,
    ],
  ] as const)('stays sound when it %s', async (_, line, width, holes) => {
    const { geometry } = await zoneOfLine(
      line.map(([x, y]) => [x, y]),
      width,
    )
    const polygons = ringsM(geometry)
    expect(polygons).toHaveLength(1)
    expect(polygons[0]!.length - 1).toBe(holes)
    for (const ring of polygons[0]!) expect(isSimple(ring)).toBe(true)
  })

  it('keeps its whole width around a sharp bend', async () => {
    const zone = await zoneOfLine(
      [
        [0, 0],
        [50, 0],
        [5, 1],
      ],
      6,
    )
    const corners = ringsM(zone.geometry)[0]![0]!
    // No edge around the bend comes nearer to it than half the width (to a centimetre).
    for (let i = 1; i < corners.length; i++) {
      const [[x1, y1], [x2, y2]] = [corners[i - 1]!, corners[i]!]
      expect(Math.hypot((x1 + x2) / 2 - 50, (y1 + y2) / 2)).toBeGreaterThan(2.99)
    }
  })

  it('leaves the ground inside a ring free', async () => {
    const { geometry } = await zoneOfLine(
      [
        [0, 0],
        [60, 0],
        [60, 60],
        [0, 60],
        [0, 0],
      ],
      8,
    )
    // Between rounded and square outer corners: 68² − 52² = 1920, less at most 4 × (1 − π/4) × 4², plus 2 % for the
    // sixteen-cornered bends, which stand outside the circle.
    expect(areaM2(geometry)).toBeGreaterThan(1920 - 4 * (1 - Math.PI / 4) * 16)
    expect(areaM2(geometry)).toBeLessThan(1920 * 1.02)
  })
})

describe('ground from a file', () => {
  it('keeps lines as lines and refuses what zones refuse', async () => {
    const reading = taken(await readGround(bytes, groundMapping))
    expect(reading.rows.map((r) => r.value && [r.value.kind, r.value.geometry.type])).toEqual([
      ['green', 'Polygon'],
      ['path', 'LineString'],
      ['road', 'LineString'],
      ['building', 'Polygon'],
      null,
      null,
      ['green', 'Polygon'],
      ['green', 'Polygon'],
      null,
      ['green', 'Polygon'],
      null,
      null,
    ])
    for (const { value } of reading.rows)
      if (value) expect(groundFeatureInput.safeParse(value).error).toBeUndefined()
  })
})
