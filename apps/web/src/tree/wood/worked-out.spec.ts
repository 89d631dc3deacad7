import type { ProbeOf, Tree } from '@underbough/model'
import { dragRecords, type Section, sectionOf } from '@underbough/wood'
import { describe, expect, it } from 'vitest'
import { ageOfCore, fractureHint, growthWords, reachWords } from './cores.ts'
import { outsideAll, ruleRows, rulesAt } from './rules.ts'
import { takenFor, woodLines, woodOf } from './species.ts'
import { landingWords, weightOf, weightWords } from './weight.ts'
import { gustsOf, sectionFigures, typedWindWords, windDefaults, withTyped } from './wind.ts'

/** A round stem of 50 cm radius without bark, six walls of one thickness. */
function ring(wallCm: number, stem = 50, thinCm = wallCm): Section {
  const made = sectionOf({
    heightM: 2,
    outline: { by: 'girth', girthCm: 2 * Math.PI * stem, barkCm: 0 },
    readings: [],
    cutWalls: Array.from({ length: 6 }, (_, i) => ({
      probeId: `p${i}`,
      label: `X${i}`,
      bearingDeg: i * 60,
      wallCm: i === 2 ? thinCm : wallCm,
    })),
    openings: [],
    crownRadiiM: null,
    seed: 1,
  })
  if (!made.ok) throw new Error(made.refusals[0]!.message)
  return made.value
}
const tree = {
  species: 'Acer platanoides',
  commonName: null,
  status: 'standing',
  heightM: 20,
  crownBaseHeightM: 5,
  crownRadiiM: { n: 4, e: 6, s: 4, w: 6 },
  stems: [{ diameterCm: 100, measuredAtM: 1.3 }],
  lean: null,
  group: null,
} as unknown as Tree
const maple = woodOf('Acer platanoides')

describe('published rules beside one another', () => {
  it('sets the thinnest wall beside each rule: 15 of 50 cm is 0.30 of the radius and (35/50)³ = 34 % (plane arithmetic)', () => {
    const found = rulesAt(ring(15), false)!
    const rows = ruleRows(found)
    if (!rows.ok) throw new Error('refused')
    const figure = (id: string) => rows.value.find(({ rule }) => rule.id === id)!.atThinnest
    expect(figure('wall-over-radius')).toBe('0.30 of the radius')
    expect(figure('cube')).toBe('34 %')
    expect(figure('fourth-power')).toBe('24 %')
    expect(found.mean?.wallCm).toBeCloseTo(15, 9)
  })
  it('takes the thinnest wall and the mean of all: 10 and (5 × 22 + 10) / 6 = 20 cm', () => {
    const found = rulesAt(ring(22, 50, 10), false)!
    expect(found.thinnest).toMatchObject({ at: 'X2', wallCm: 10 })
    expect(found.mean?.wallCm).toBeCloseTo(20, 9)
  })
  it('says once what every rule leaves out, and nothing where one of them speaks', () => {
    const rows = ruleRows(rulesAt(ring(15), false)!)
    if (!rows.ok) throw new Error('refused')
    expect(outsideAll(rows.value)).toEqual([])
    const uneven = rows.value.map((row) => ({
      ...row,
      rule: { ...row.rule, domainLeft: ['Uneven.', row.rule.id] },
    }))
    expect(outsideAll(uneven)).toEqual(['Uneven.'])
  })
  it('is silent where no wall was found to end', () => {
    const section = ring(15)
    const open = { ...section, readings: section.readings.map((one) => ({ ...one, censored: true })) }
    expect(rulesAt(open, null)).toBeNull()
  })
})

describe('wind on a section', () => {
  it('has the modulus and area of a round stem: πR³/4 and π(R² − r²) (beam theory)', () => {
    const figures = sectionFigures(ring(20))!
    expect(figures.soundModulusCm3.value / ((Math.PI * 50 ** 3) / 4)).toBeCloseTo(1, 2)
    expect(figures.areaCm2.value / (Math.PI * (50 ** 2 - 30 ** 2))).toBeCloseTo(1, 1)
  })
  it('marks what the record holds as measured, and what nobody measured as not', () => {
    const known = windDefaults(tree, ring(20), maple)
    expect(known.heightM).toMatchObject({ value: 20, mark: 'measured' })
    expect(known.meanCrownRadiusM).toMatchObject({ value: 5, mark: 'measured' })
    expect(known.stemDiameterCm).toMatchObject({ value: 100, mark: 'measured' })
    const bare = windDefaults({ ...tree, heightM: null, crownRadiiM: null }, ring(20), maple)
    expect(bare.heightM.mark).toBe('estimated')
    expect(bare.meanCrownRadiusM.mark).toBe('estimated')
    expect(bare.leanOffsetM).toMatchObject({ value: 0, mark: 'defaulted' })
  })
  it('puts the weight of a leaning tree off the middle: half of 18 m at 45° (plane trigonometry)', () => {
    const leaning = { ...tree, lean: { bearingDeg: 90, angleDeg: 45 } } as Tree
    expect(windDefaults(leaning, ring(20), maple).leanOffsetM.value).toBeCloseTo(9, 6)
  })
  it('takes a typed figure for an estimate, and keeps the default where the field is emptied', () => {
    const known = windDefaults(tree, ring(20), maple)
    expect(withTyped(known, { heightM: 30 }).heightM).toMatchObject({ value: 30, mark: 'estimated' })
    expect(withTyped(known, { heightM: null }).heightM).toEqual(known.heightM)
  })
  it('reaches its strength in weaker wind when more is gone', () => {
    const least = (section: Section) => {
      const said = gustsOf(section, windDefaults(tree, section, maple), dragRecords[1]!)
      if (!said?.ok) throw new Error('refused')
      return said.value.relative.leastPercent
    }
    expect(least(ring(8))).toBeLessThan(least(ring(30)))
  })
  it('says four times the moment for twice the wind (½ρv²)', () => {
    const section = ring(20)
    const known = windDefaults(tree, section, maple)
    const moment = (speedMps: number) => {
      const words = typedWindWords(
        { kind: 'gust3s', speedMps, terrain: 'II' },
        section,
        known,
        dragRecords[1]!,
      )
      if (!words?.ok) throw new Error('refused')
      return Number(/about ([\d.]+) kN·m/.exec(words.value)![1])
    }
    // Said with two figures.
    expect(moment(20) / moment(10)).toBeCloseTo(4, 0)
    expect(
      typedWindWords({ kind: 'gust3s', speedMps: null, terrain: 'II' }, section, known, dragRecords[1]!),
    ).toBeNull()
  })
})

describe('weight of a part', () => {
  const said = {
    lengthM: 4,
    buttDiameterCm: 30,
    tipDiameterCm: 30,
    middleDiameterCm: null,
    heightM: 10,
    leaf: 'out-of-leaf' as const,
  }
  it('waits for length and both ends', () => {
    expect(weightOf({ ...said, tipDiameterCm: null }, maple)).toBeNull()
  })
  it('is a cylinder’s volume times density, in kg and lb, and lands at √(2gh) (general mechanics)', () => {
    const part = weightOf(said, maple)
    if (!part?.ok) throw new Error('refused')
    const kg = Math.PI * 0.15 ** 2 * 4 * maple.wood.densityKgM3.value * 1.05
    const [shownKg, shownLb] = [/About ([\d,]+) kg/, /([\d,]+) lb/].map((of) =>
      Number(of.exec(weightWords(part.value))![1]!.replace(',', '')),
    )
    expect(shownKg! / kg).toBeCloseTo(1, 1)
    expect(shownLb! / (kg * 2.2046)).toBeCloseTo(1, 1)
    expect(landingWords(part.value)).toContain('14 m/s')
    const shownKj = Number(/about ([\d.]+) kJ/.exec(landingWords(part.value)!)![1])
    expect(shownKj / ((kg * 9.81 * 10) / 1000)).toBeCloseTo(1, 1)
    const still = weightOf({ ...said, heightM: null }, maple)
    expect(still?.ok && landingWords(still.value)).toBeNull()
  })
})

describe('what a name is taken for', () => {
  it('says how sure it is', () => {
    expect(takenFor(woodOf('Acer platanoides').match)).toMatch(/Norway maple, Acer platanoides\.$/i)
    expect(takenFor(woodOf('Acer platanoidse').match)).toMatch(/close match/)
    expect(takenFor(woodOf('Acer sp.').match)).toMatch(/genus alone/)
    expect(takenFor(woodOf('conifer').match)).toMatch(/^Softwood/)
    expect(takenFor(woodOf('lamp post').match)).toMatch(/not known/)
  })
  it('asks the common name where the first one says nothing', () => {
    expect(woodOf('see list', 'Norway maple').match.latin).toBe('Acer platanoides')
  })
  it('names a source for every figure, and whose it is where another stands in', () => {
    for (const line of woodLines(woodOf('Acer sp.').wood)) expect(line.source).toMatch(/^Stands in from/)
  })
})

describe('a core', () => {
  const core = {
    heightM: 1.3,
    on: '2026-05-03',
    entryBearingDeg: 0,
    directionDeg: 180,
    reading: {
      reachedCm: 40,
      ringsCounted: 80,
      pith: { reached: true, atCm: 40 },
      innermostRingsMm: [],
      innermost10mmRings: null,
      outerTenRingsMm: 20,
    },
  } as unknown as ProbeOf<'core'>
  it('says how far the borer came and what it left', () => {
    expect(reachWords(core, 62)).toBe('40 of 62 cm to the middle; the rest is unread')
    expect(reachWords(core, 40.2)).toMatch(/and so the middle/)
    expect(reachWords(core, null)).toMatch(/not measured/)
  })
  it('gives 20 mm over ten rings as 2 mm a ring and 4 mm a year across', () => {
    expect(growthWords(core)).toMatch(/^2\.0 mm a ring .* 4\.0 mm a year/)
  })
  it('has no age without rings, and at least the rings counted with them', () => {
    expect(ageOfCore({ ...core, reading: { ...core.reading, ringsCounted: null } })).toBeNull()
    const age = ageOfCore(core)
    expect(age?.ok && age.value.leastYears).toBeGreaterThanOrEqual(80)
  })
  it('never calls a break more than a hint', () => {
    const broke = (manner: 'firm' | 'weak') => ({ atCm: 5, manner }) as never
    const said = (breaks: never[], beside: never) => fractureHint({ breaks, beside } as never)
    expect(said([broke('firm'), broke('weak')], 'the middle of this core’s own breaks' as never)).toMatch(
      /weak at 5 cm.*hint, not a diagnosis/,
    )
    expect(said([broke('weak')], null as never)).toMatch(/Too few/)
  })
})
