import { polygonMoments, type SectionInput, sectionModuli, sectionOf } from '@underbough/wood'

/** Plain chances by the seed alone (Park and Miller 1988, doi 10.1145/63039.63042). */
export function chances(seed: number) {
  let state = (seed * 7919 + 17) % 2147483647
  const uniform = () => {
    state = (state * 48271) % 2147483647
    return state / 2147483647
  }
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())
  for (let i = 0; i < 5; i++) uniform()
  return { uniform, normal, from: (least: number, most: number) => least + uniform() * (most - least) }
}

const BENDS = Array.from({ length: 60 }, (_, i) => i * 3)
const rad = Math.PI / 180

/**
 * An invented stem whose inside is known: a lobed outline, a lobed hollow off its middle, perhaps an opening; and readings of it as a person
 * would take them: evenly round, depth off by 1 cm, bearing by 5°, radius by 0.5 cm (standard deviations).
 */
export function inventedStem(
  seed: number,
  readings: number,
  open: boolean,
): { input: SectionInput; truth: number } {
  const chance = chances(seed)
  const radius = chance.from(18, 55)
  const lobes = [2, 3].map((k) => ({ k, by: chance.from(0, 0.05), at: chance.from(0, 360) }))
  const outer = (deg: number) =>
    radius * (1 + lobes.reduce((sum, l) => sum + l.by * Math.cos(l.k * (deg - l.at) * rad), 0))
  const hollow = radius * chance.from(0.35, 0.85)
  const off = chance.from(0, 0.7) * (radius * 0.92 - hollow)
  const towards = chance.from(0, 360)
  const inLobes = [2, 3].map((k) => ({ k, by: chance.from(0, 0.08), at: chance.from(0, 360) }))
  /** Where a ray from the middle leaves the hollow: a circle off the middle, with lobes. */
  const inner = (deg: number) => {
    const along = off * Math.cos((deg - towards) * rad)
    const across = off * Math.sin((deg - towards) * rad)
    const plain = along + Math.sqrt(Math.max(0, hollow ** 2 - across ** 2))
    const lobed = plain * (1 + inLobes.reduce((sum, l) => sum + l.by * Math.cos(l.k * (deg - l.at) * rad), 0))
    return Math.min(outer(deg) - 0.5, Math.max(0, lobed))
  }
  const from = chance.from(0, 360)
  const width = open ? chance.from(15, 70) : 0
  const wall = (deg: number) => outer(deg) - inner(deg)

  const at = (deg: number, r: number): [number, number] => [r * Math.sin(deg * rad), r * Math.cos(deg * rad)]
  const steps = 720
  const arc = Array.from({ length: steps + 1 }, (_, i) => from + width + ((360 - width) * i) / steps)
  const firm = open
    ? [[...arc.map((d) => at(d, outer(d))), ...[...arc].reverse().map((d) => at(d, inner(d)))]]
    : [
        arc.slice(0, -1).map((d) => at(d, outer(d))),
        [...arc.slice(0, -1)].reverse().map((d) => at(d, inner(d))),
      ]
  const whole = [Array.from({ length: steps }, (_, i) => at((i * 360) / steps, outer((i * 360) / steps)))]
  const z = (rings: [number, number][][]) => sectionModuli(polygonMoments(rings)!, rings.flat().flat(), BENDS)
  const sound = z(whole)
  const truth = Math.min(...Array.from(z(firm), (one, i) => one / sound[i]!))

  const turned = chance.from(0, 360)
  const even = Array.from({ length: readings }, (_, i) => turned + (360 * i) / readings)
  // Nobody drills into a hole: what would fall there is moved to its nearer edge.
  const places = even.map((deg) => {
    const past = (((deg - from) % 360) + 360) % 360
    return past < width ? (past < width / 2 ? from - 3 : from + width + 3) : deg
  })
  const wrap = (deg: number) => ((deg % 360) + 360) % 360
  const edge = (deg: number) => Math.max(0, wall(deg) + chance.normal())
  return {
    truth,
    input: {
      heightM: 1.3,
      outline: {
        by: 'radii',
        radii: Array.from({ length: 12 }, (_, i) => ({
          bearingDeg: i * 30,
          radiusCm: outer(i * 30) + 0.5 * chance.normal(),
        })),
        barkCm: 0,
      },
      readings: places.map((deg, i) => {
        const read = Math.min(Math.max(0.3, wall(deg) + chance.normal()), outer(deg) - 0.5)
        const said = wrap(deg + 5 * chance.normal())
        return {
          probeId: `T${i + 1}`,
          label: `T${i + 1}`,
          entryBearingDeg: said,
          directionDeg: wrap(said + 180),
          tiltDeg: 0,
          barkCm: 0,
          reachedCm: read + 0.5,
          segments: [
            { fromCm: 0, toCm: read, condition: 'sound' as const },
            { fromCm: read, toCm: read + 0.5, condition: 'void' as const },
          ],
        }
      }),
      cutWalls: [],
      openings: open
        ? [
            {
              probeId: 'O1',
              label: 'O1',
              fromBearingDeg: wrap(from),
              toBearingDeg: wrap(from + width),
              depthCm: radius,
              edgeWallsCm: { from: edge(from), to: edge(from + width) },
            },
          ]
        : [],
      crownRadiiM: null,
      seed,
    },
  }
}

/** How often the known strength of invented stems lies below the 5 % figure, above the 95 %, and the mean width between them. */
export function coverage(stems: number, readings: number, open: boolean) {
  let below = 0
  let above = 0
  let width = 0
  let counted = 0
  for (let seed = 1; seed <= stems; seed++) {
    const { input, truth } = inventedStem(seed, readings, open)
    const outcome = sectionOf(input)
    if (!outcome.ok) throw new Error(`stem ${seed}: ${outcome.refusals[0]!.message}`)
    const { share } = outcome.value
    if (!share) continue
    counted++
    if (truth < share.p05) below++
    if (truth > share.p95) above++
    width += share.p95 - share.p05
  }
  return { counted, below: below / counted, above: above / counted, width: width / counted }
}
