import { lookingSteps } from '@underbough/model'
import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { attributes, noBadNumbers } from '../draw/read-back.ts'
import { describeLooking, type LookedStep, LookingStrip, lookingCaption } from './looking.tsx'
import { countSays, describeRange, logPlace, RangeBar } from './range.tsx'
import { describeWordPath, type RatedPath, WordPath } from './word-path.tsx'

const path: RatedPath = {
  failure: 'probable',
  impact: 'high',
  joint: 'likely',
  consequences: 'severe',
  risk: 'high',
  timeFrameYears: 3,
}

describe('word path', () => {
  it.each([330, 150])(
    'sets the five words in their order and joins them with two arrows, %i px wide',
    (widthPx) => {
      const html = renderToStaticMarkup(<WordPath path={path} widthPx={widthPx} />)
      for (const word of ['>probable<', '>likely<', '>high<', 'severe', 'failure in 3 years'])
        expect(html).toContain(word)
      expect([...html.matchAll(/stroke-width="1.3"/g)]).toHaveLength(2)
      expect(html).not.toContain('<rect')
    },
  )
  it('never colours a word by its risk', () => {
    expect(renderToStaticMarkup(<WordPath path={{ ...path, risk: 'extreme' }} />)).not.toContain('risk-')
  })
  it('says the path', () => {
    expect(describeWordPath(path)).toBe(
      'Likelihood of failure within 3 years: probable. Likelihood of impact: high. Together: likely. Consequences: severe. Risk: high.',
    )
  })
})

const steps: LookedStep[] = lookingSteps.map((step, i) => ({
  step,
  result: i === 1 ? 'nothing-found' : i === 6 ? 'not-seen' : 'findings',
  minutes: i + 1,
  found: i === 6 ? 'east side hidden' : '',
}))

describe('looking strip', () => {
  it('stands seven bars in order, the longer the more minutes', () => {
    const html = renderToStaticMarkup(<LookingStrip steps={[...steps].reverse()} widthPx={900} />)
    const widths = [...html.matchAll(/<rect x="[\d.]+" y="\d+" width="([\d.]+)" height="16"/g)].map((m) =>
      Number(m[1]),
    )
    expect(widths).toHaveLength(7)
    // Each minute adds the same width, and some.
    expect(widths[1]! - widths[0]!).toBeGreaterThan(4)
    for (let i = 2; i < 7; i++) expect(widths[i]! - widths[i - 1]!).toBeCloseTo(widths[1]! - widths[0]!, 1)
    expect(html.indexOf('Surroundings</text>')).toBeLessThan(html.indexOf('Stem</text>'))
  })
  it('tells the three results apart without colour', () => {
    const fills = [
      ...renderToStaticMarkup(<LookingStrip steps={steps} />).matchAll(/height="16" fill="([^"]+)"/g),
    ].map((m) => m[1]!)
    expect(fills[0]).toBe('var(--ink)')
    expect(fills[1]).toBe('var(--leaf)')
    expect(fills[6]).toMatch(/not-seen/)
  })
  it('never loses a step: one without an answer is not seen', () => {
    expect(describeLooking(steps.slice(0, 6))).toContain('7 Twigs and leaves, not seen: not answered')
    expect(lookingCaption(steps)).toBe(
      '28 minutes, something found at 5 of 7 steps; not seen: twigs and leaves.',
    )
  })
  it('keeps every figure at phone width', () => {
    const html = renderToStaticMarkup(<LookingStrip steps={steps} widthPx={340} textScale={1.34} />)
    for (let i = 1; i <= 7; i++) expect(html).toContain(`>${i} min<`)
  })
})

describe('range bar', () => {
  const axis = { from: 0.01, to: 10 }
  it('gives every tenfold the same length', () => {
    const places = [0.01, 0.1, 1, 10].map((v) => logPlace(v, axis, 212))
    expect(places[1]! - places[0]!).toBeCloseTo(places[2]! - places[1]!, 9)
    expect(places.at(-1)).toBe(206)
  })
  it('leaves a gap at the mean', () => {
    const d = attributes(
      renderToStaticMarkup(
        <RangeBar range={{ least: 0.7, mean: 2.1, most: 2.9, unit: 'people' }} axis={axis} widthPx={212} />,
      ),
      'data-part="range"',
    ).d!
    const [, from, to, again, end] = /M([\d.]+) [\d.]+H([\d.]+)M([\d.]+) [\d.]+H([\d.]+)/.exec(d)!.map(Number)
    expect((to! + again!) / 2).toBeCloseTo(logPlace(2.1, axis, 212), 1)
    expect(from).toBeCloseTo(logPlace(0.7, axis, 212), 1)
    expect(end).toBeCloseTo(logPlace(2.9, axis, 212), 1)
  })
  it('says mean and range with their unit', () => {
    expect(describeRange({ least: 0.7, mean: 2.1, most: 2.9, unit: 'people within its outline' })).toBe(
      '2.1 people within its outline on average; 0.7 to 2.9.',
    )
    expect(countSays(0.0123)).toBe('0.012')
  })
  it('draws any range', () => {
    const any = fc.double({ min: 0, max: 1e4, noNaN: true })
    fc.assert(
      fc.property(any, any, any, (a, b, c) => {
        const [least, mean, most] = [a, b, c].sort((x, y) => x - y) as [number, number, number]
        expect(
          noBadNumbers(
            renderToStaticMarkup(<RangeBar range={{ least, mean, most, unit: 'people' }} />).replace(
              /aria-label="[^"]*"/,
              '',
            ),
          ),
        ).toBe(true)
      }),
    )
  })
})
