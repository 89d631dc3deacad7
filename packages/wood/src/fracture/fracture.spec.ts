import { describe, expect, it } from 'vitest'
import { bendingStressMPa, stiffnessGPa } from './beam.ts'
import { type FractureInput, fractureOf } from './fracture.ts'

const core = { coreDiameterMm: 5, leverMm: 20 }
function result(input: FractureInput) {
  const answer = fractureOf(input)
  if (!answer.ok) throw new Error(answer.refusals.map((one) => one.code).join())
  return answer.value
}

describe('beam theory', () => {
  it('gives back the stress of a moment over the section modulus of a round rod', () => {
    // Z = π d³ / 32 (any handbook): 10 N at 20 mm on 5 mm.
    expect(bendingStressMPa(10, 20, 5)).toBeCloseTo(200 / ((Math.PI * 125) / 32), 10)
  })

  it('gives back the stiffness of a rod whose bend is added up slice by slice', () => {
    // Curvature M/EI along the rod, M = F (a − x): its sum is the slope at the end.
    const [loadN, a, d, stiffMPa] = [3, 20, 5, 900]
    const secondMoment = (Math.PI * d ** 4) / 64
    const n = 100_000
    let slope = 0
    for (let i = 0; i < n; i++)
      slope += ((loadN * (a - ((i + 0.5) * a) / n)) / (stiffMPa * secondMoment)) * (a / n)
    expect(stiffnessGPa(loadN, a, d, (slope * 180) / Math.PI)).toBeCloseTo(stiffMPa / 1000, 8)
  })

  it('marks a bend as large where the shortening lever alone puts stiffness about 3 per cent out', () => {
    // Cantilever at any bend: EI θ'' = −F cos θ, θ(0) = 0, θ'(a) = 0, by the midpoint rule and by halving for θ'(0).
    function slopeAtEnd(loadOverEI: number) {
      let [low, high] = [0, loadOverEI]
      let slope = 0
      for (let trial = 0; trial < 60; trial++) {
        const start = (low + high) / 2
        let curvature = start
        slope = 0
        const n = 1000
        for (let i = 0; i < n; i++) {
          const half = slope + curvature / (2 * n)
          const middle = curvature - (loadOverEI * Math.cos(slope)) / (2 * n)
          curvature -= (loadOverEI * Math.cos(half)) / n
          slope += middle / n
        }
        if (curvature > 0) high = start
        else low = start
      }
      return slope
    }
    // Bisshopp and Drucker 1945, Quarterly of Applied Mathematics 3(3), from memory: F a²/EI = 1 bends the end by 0.461 rad, and not by 0.5.
    expect(slopeAtEnd(1)).toBeCloseTo(0.461, 3)
    for (const loadOverEI of [0.1, 0.3, 0.45, 0.6, 1, 1.5]) {
      const slope = slopeAtEnd(loadOverEI)
      const angleDeg = (slope * 180) / Math.PI
      // A rod of 5 mm and 20 mm with a stiffness of 1 GPa.
      const loadN = (loadOverEI * 1000 * ((Math.PI * 5 ** 4) / 64)) / 20 ** 2
      const tooStiff = stiffnessGPa(loadN, 20, 5, angleDeg)! - 1
      expect(tooStiff).toBeCloseTo(loadOverEI / 2 / slope - 1, 9)
      expect(result({ ...core, breaks: [{ atCm: 3, loadN, angleDeg }] }).breaks[0]!.largeBend).toBe(
        tooStiff > 0.025,
      )
    }
  })

  it('has no stiffness for a bend that was not read', () => {
    expect(stiffnessGPa(3, 20, 5, 0)).toBeNull()
  })
})

describe('hints', () => {
  // Loads and bends chosen so that strength goes with the load and stiffness with load over bend.
  const firm = { loadN: 10, angleDeg: 8 }
  it.each([
    ['firm', { loadN: 10, angleDeg: 8 }],
    ['bends far', { loadN: 9, angleDeg: 30 }],
    ['snaps short', { loadN: 5, angleDeg: 3 }],
    ['weak', { loadN: 3, angleDeg: 20 }],
  ])('%s', (manner, odd) => {
    const breaks = [firm, firm, firm, firm, odd].map((one, i) => ({ ...one, atCm: 2 * i }))
    const got = result({ ...core, breaks })
    expect(got.breaks[4]!.manner).toBe(manner)
    expect(got.breaks[4]!.hint).toMatch(/a hint, not a diagnosis/i)
    expect(got.beside).toMatch(/this core/)
  })

  it('has none for one or two breaks with nothing to set them beside', () => {
    const got = result({ ...core, breaks: [{ atCm: 3, ...firm }] })
    expect(got.breaks[0]).toMatchObject({ manner: null, hint: null, strengthShare: null })
    expect(got.beside).toBeNull()
  })

  it('sets breaks beside sound wood tried across the grain', () => {
    const own = bendingStressMPa(10, 20, 5)
    const stiff = stiffnessGPa(10, 20, 5, 8)!
    const green = { grain: 'across' as const, bendingStrengthMPa: 2 * own, stiffnessGPa: stiff }
    const got = result({ ...core, breaks: [{ atCm: 3, ...firm }], green })
    expect(got.breaks[0]).toMatchObject({ strengthShare: 0.5, stiffnessShare: 1, manner: 'snaps short' })
  })

  it('never reads a figure along the grain as a loss', () => {
    const green = { grain: 'along' as const, bendingStrengthMPa: 60, stiffnessGPa: 9 }
    const got = result({ ...core, breaks: [{ atCm: 3, ...firm }], green })
    expect(got.breaks[0]).toMatchObject({ strengthShare: null, manner: null })
    expect(got.ofAlongGrain!.bendingStrengthShare).toBeCloseTo(bendingStressMPa(10, 20, 5) / 60, 12)
    expect(got.ofAlongGrain!.sentence).toMatch(/says nothing of a loss/)
  })
})

it('refuses figures beyond the instrument', () => {
  const answer = fractureOf({ ...core, breaks: [{ atCm: 3, angleDeg: 95, loadN: -1 }] })
  expect(answer.ok ? [] : answer.refusals.map((one) => one.path)).toEqual([
    'breaks.0.angleDeg',
    'breaks.0.loadN',
  ])
})
