import { type SectionInput, sectionOf } from '@underbough/wood'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { CoreStrip, coreCaption, readShare } from './core.tsx'
import { describeSection, sectionCaption, sectionFormal } from './describe-section.ts'
import { WoodKey, woodNames } from './patterns.tsx'
import { StemSection } from './section.tsx'
import { SoundingRings, soundingCaption } from './sounding.tsx'
import { StrengthRose, strengthRoseCaption } from './strength-rose.tsx'
import { TraceChart, traceCaption } from './trace.tsx'

const drill = (label: string, bearing: number, wall: number, hollow = true) => ({
  probeId: label,
  label,
  entryBearingDeg: bearing,
  directionDeg: (bearing + 180) % 360,
  tiltDeg: 0,
  barkCm: 1,
  reachedCm: hollow ? 30 : 1 + wall,
  segments: [
    { fromCm: 1, toCm: 1 + wall, condition: 'sound' as const },
    ...(hollow ? [{ fromCm: 1 + wall, toCm: 30, condition: 'void' as const }] : []),
  ],
})
const section = (count: number, more: Partial<SectionInput> = {}) => {
  const outcome = sectionOf({
    heightM: 2.1,
    outline: { by: 'girth', girthCm: 314, barkCm: null },
    readings: Array.from({ length: count }, (_, i) => drill(`T${i + 1}`, (360 * i) / count, 8 + 2 * i)),
    cutWalls: [],
    openings: [],
    crownRadiiM: null,
    seed: 1,
    ...more,
  })
  if (!outcome.ok) throw new Error('refused')
  return outcome.value
}
const html = (element: React.ReactElement) => renderToStaticMarkup(element)
const count = (markup: string, part: string) => markup.split(part).length - 1

describe('the section', () => {
  it('draws each reading where it went, and firm wood only as far as readings bear it', () => {
    for (const [readings, firm, median] of [
      [3, 0, 0],
      [5, 1, 0],
      [6, 1, 1],
    ] as const) {
      const markup = html(<StemSection section={section(readings)} />)
      expect(count(markup, 'data-part="reading"')).toBe(readings)
      expect(count(markup, 'data-condition="sound"')).toBe(readings)
      expect(count(markup, 'data-part="firm"')).toBe(firm)
      expect(count(markup, 'data-part="median"')).toBe(median)
      expect(count(markup, 'data-part="unread"')).toBe(1)
    }
  })

  it('draws nothing in wood colour beyond a reading that stopped in firm wood, and leaves its end open', () => {
    const shallow = section(3, { readings: [0, 120, 240].map((b, i) => drill(`C${i + 1}`, b, 12, false)) })
    const markup = html(<StemSection section={shallow} />)
    expect(count(markup, 'data-part="open-end"')).toBe(3)
    expect(markup).toContain('over 12 cm')
    expect(markup).not.toContain('data-condition="void"')
    const widths = [...markup.matchAll(/data-condition="sound" width="([\d.]+)"/g)].map((one) =>
      Number(one[1]),
    )
    const perCm = Math.max(20, 190 - 66) / Math.max(...shallow.outline.outerCm)
    for (const width of widths) expect(width / perCm).toBeCloseTo(12, 1)
  })

  it('keeps labels apart and within the sheet at every width', () => {
    const opened = section(8, {
      openings: [
        {
          probeId: 'o',
          label: 'O1',
          fromBearingDeg: 98,
          toBearingDeg: 124,
          depthCm: 20,
          edgeWallsCm: { from: 9, to: 9 },
        },
      ],
    })
    for (const [width, scale] of [
      [300, 1.34],
      [390, 1.34],
      [640, 1],
    ] as const) {
      const markup = html(<StemSection section={opened} widthPx={width} textScale={scale} />)
      const labels = [...markup.matchAll(/<g data-part="label">.*?<\/g>/g)].map(([one]) => ({
        x: Number(/<text x="([\d.-]+)"/.exec(one)![1]),
        end: one.includes('text-anchor="end"'),
        ys: [...one.matchAll(/<text x="[\d.-]+" y="([\d.-]+)"/g)].map((y) => Number(y[1])),
      }))
      expect(labels).toHaveLength(10)
      for (const side of [true, false]) {
        const sorted = labels.filter((one) => one.end === side).sort((a, b) => a.ys[0]! - b.ys[0]!)
        sorted.slice(1).forEach((one, i) => {
          expect(one.ys[0]! - Math.max(...sorted[i]!.ys)).toBeGreaterThan(11 * scale)
        })
      }
      for (const one of labels) {
        expect(one.x).toBeGreaterThanOrEqual(0)
        expect(one.x).toBeLessThanOrEqual(width)
      }
    }
  })

  it('says in one plain sentence what is firm, what is gone and what nobody knows', () => {
    expect(sectionCaption(section(6))).toMatch(/thinnest to the north, 8 cm.*hatched/)
    expect(sectionFormal(section(6))).toMatch(
      /share of the same outline if sound: \d+ % … \d+ % … \d+ % \(5, 50 and 95 % of the drawn walls\); from 6 readings at 2.1 m; root plate and unions not assessed/,
    )
    expect(sectionFormal(section(5))).toContain('a range only')
    expect(sectionFormal(section(2))).toMatch(/^No figure/)
    for (const readings of [0, 1, 3, 4, 6, 8])
      for (const words of [
        sectionCaption(section(readings)),
        sectionFormal(section(readings)),
        describeSection(section(readings)),
        strengthRoseCaption(section(readings)),
      ])
        expect(words).not.toMatch(/\bsafe|strength of the tree|NaN|undefined/i)
  })

  it('draws a strength rose only where there are figures', () => {
    expect(html(<StrengthRose section={section(5)} />)).toBe('')
    const markup = html(<StrengthRose section={section(8)} />)
    for (const part of ['p05', 'p50', 'p95']) expect(count(markup, `data-part="${part}"`)).toBe(1)
    expect(count(markup, 'data-part="weakest"')).toBe(2)
  })

  it('keeps its patterns to itself when two stand on one page', () => {
    const markup = html(
      <>
        <StemSection section={section(6)} />
        <StemSection section={section(4)} />
      </>,
    )
    const ids = [...markup.matchAll(/ id="([^"]+)"/g)].map((one) => one[1])
    expect(new Set(ids).size).toBe(ids.length)
    for (const [, used] of markup.matchAll(/url\(#([^)]+)\)/g)) expect(ids).toContain(used)
  })
})

const core = {
  borerLengthCm: 40,
  reachedCm: 22,
  barkCm: 2,
  segments: [
    { fromCm: 2, toCm: 15, condition: 'sound' as const },
    { fromCm: 15, toCm: 22, condition: 'softened-fibrous' as const },
  ],
  ringsCounted: null,
  innermostRingsMm: [],
  innermost10mmRings: null,
  outerTenRingsMm: null,
  pith: null,
  manner: null,
  smell: '',
}

describe('a core', () => {
  it('is hatched from where the borer stopped to the middle', () => {
    const markup = html(<CoreStrip core={core} radiusCm={42} widthPx={520} />)
    const fills = [...markup.matchAll(/data-fill="([a-z-]+)" x="([\d.]+)" y="[\d.]+" width="([\d.]+)"/g)].map(
      (one) => [one[1], Number(one[3])],
    )
    expect(fills.map(([fill]) => fill)).toEqual(['bark', 'sound', 'softened-fibrous', 'unread'])
    const perCm = (520 - 26) / 42
    expect(fills.map(([, width]) => Math.round(Number(width) / perCm))).toEqual([2, 13, 7, 20])
    expect(readShare({ core, radiusCm: 42 })).toBeCloseTo(0.5, 9)
    expect(coreCaption({ core, radiusCm: 42 })).toMatch(
      /13 cm of firm wood and 7 cm of softened or missing wood; the borer read 50 %.*last 20 cm nobody knows/,
    )
  })
})

describe('a trace', () => {
  const facts = {
    label: 'T1',
    depthsCm: [0, 10, 20],
    resistances: [10, 60, 5],
    resistanceUnit: '%',
    barkCm: 1,
    segments: [
      { fromCm: 1, toCm: 12, condition: 'sound' as const },
      { fromCm: 12, toCm: 20, condition: 'void' as const },
    ],
    radiusCm: 30,
  }
  it('asks about what is proposed, states what is accepted, and has grips only where they can be moved', () => {
    const proposed = html(<TraceChart {...facts} state="proposed" onMoveBorder={() => {}} />)
    expect(proposed).toContain('sound 11?')
    expect(count(proposed, 'role="slider"')).toBe(1)
    expect(proposed).toMatch(/aria-valuenow="12"/)
    const accepted = html(<TraceChart {...facts} state="accepted" />)
    expect(accepted).toContain('>sound 11<')
    expect(accepted).not.toContain('role="slider"')
    expect(count(accepted, 'data-fill="unread"')).toBe(1)
    expect(traceCaption({ ...facts, state: 'proposed' })).toMatch(
      /nobody has accepted.*stopped 10 cm before the middle.*silent on strength/,
    )
  })
})

describe('sounding', () => {
  const rounds = [
    { heightM: 0.5, struck: 'all-round' as const, dullArcs: [{ fromBearingDeg: 350, toBearingDeg: 10 }] },
    { heightM: 1.3, struck: 'part' as const, dullArcs: [] },
  ]
  it('unrolls the stem and breaks an arc over north in two', () => {
    const markup = html(<SoundingRings rounds={rounds} />)
    expect(count(markup, 'data-part="round"')).toBe(2)
    expect(count(markup, 'data-part="dull"')).toBe(2)
    expect(soundingCaption({ rounds })).toContain('dull at 0.5 m to the north')
    expect(soundingCaption({ rounds: [rounds[1]!] })).toContain('tells nothing of decay deeper in')
  })
})

it('has a pattern and a name of its own for every kind of wood', () => {
  expect(new Set(Object.values(woodNames)).size).toBe(7)
  const markup = html(<WoodKey />)
  expect(count(markup, '<li>')).toBe(7)
})
