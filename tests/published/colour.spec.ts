import { existsSync, readdirSync, readFileSync } from 'node:fs'
import {
  type ColourToken,
  colourCss,
  colourTokens,
  dayPalette,
  nightPalette,
  type Palette,
  sunPalette,
} from '@underbough/pictures'
import {
  type Colour,
  converter,
  differenceCiede2000,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  filterDeficiencyTrit,
  wcagContrast,
} from 'culori'
import { describe, expect, it } from 'vitest'

/*
 * Contrast floors: WCAG 2.2 (W3C Recommendation), success criteria 1.4.3 Contrast (Minimum), level AA: 4.5:1 for text, and
 * 1.4.11 Non-text Contrast, level AA: 3:1 for graphics one needs to understand.
 * Colour differences: CIEDE2000 (CIE 142; Sharma, Wu and Dalal 2005). Colour-vision deficiency: Machado, Oliveira and
 * Fernandes 2009, full strength, as the general-purpose library culori computes them. Greyscale keeps CIE lightness.
 * The floor of 7.5 between any two risk colours is our own; by Mokrzycki and Tatol (2011) a difference of 5 is already
 * taken for two different colours.
 */

// Under the sun words keep level AAA (1.4.6 Contrast, Enhanced): 7:1.
const grounds: [name: string, palette: Palette, words: number][] = [
  ['day', dayPalette, 4.5],
  ['night', nightPalette, 4.5],
  ['sun', sunPalette, 7],
]
const papers = ['paper', 'leaf', 'sunk'] as const
const texts = ['ink', 'ink-2', 'ink-3', 'accent', 'kept', 'mind', 'refused'] as const
const marks = [
  'risk-1',
  'risk-2',
  'risk-3',
  'risk-4',
  'crew-a',
  'crew-b',
  'crew-c',
  'crew-d',
  'edge',
  'focus',
  'zone-ink',
] as const
const wordPairs: [front: ColourToken, back: ColourToken][] = [
  ['on-accent', 'accent'],
  ['kept', 'kept-tint'],
  ['mind', 'mind-tint'],
  ['refused', 'refused-tint'],
  ['ink', 'accent-tint'],
  ['ink-2', 'water'],
  ['ink-2', 'green'],
]
const pairs: [front: ColourToken, back: ColourToken, floor: number][] = [
  ['zone-ink', 'zone-building', 3],
  ['zone-ink', 'zone-footpath', 3],
  ['zone-ink', 'zone-play', 3],
  ['zone-ink', 'zone-seating', 3],
  ['zone-ink', 'zone-parking', 3],
  ['zone-ink', 'zone-utility', 3],
  ['wood-line', 'wood-sound', 3],
  ['risk-1', 'green', 3],
]

const lab = converter('lab65')
const views: [string, (colour: Colour) => Colour][] = [
  ['full colour', (colour) => colour],
  ['protanopia', filterDeficiencyProt(1)],
  ['deuteranopia', filterDeficiencyDeuter(1)],
  ['tritanopia', filterDeficiencyTrit(1)],
  ['greyscale', (colour) => ({ mode: 'lab65', l: lab(colour).l, a: 0, b: 0 })],
]
const difference = differenceCiede2000()
const ramp = ['risk-1', 'risk-2', 'risk-3', 'risk-4'] as const
const crews = ['crew-a', 'crew-b', 'crew-c', 'crew-d'] as const
const leastOf = (palette: Palette, tokens: readonly ColourToken[], seen: (colour: Colour) => Colour) =>
  Math.min(
    ...tokens.flatMap((a, i) =>
      tokens.slice(i + 1).map((b) => difference(seen(palette[a]), seen(palette[b]))),
    ),
  )

describe('the library agrees with published values', () => {
  it('black on white has the greatest contrast, 21:1 (WCAG 2.2, definition of contrast ratio)', () => {
    expect(wcagContrast('#000000', '#ffffff')).toBeCloseTo(21, 6)
  })
  it('gives the differences of Sharma, Wu and Dalal 2005, table 1, pairs 1 and 25 (from memory)', () => {
    const pair = (a: number[], b: number[]) =>
      difference(
        { mode: 'lab65', l: a[0]!, a: a[1]!, b: a[2]! },
        { mode: 'lab65', l: b[0]!, a: b[1]!, b: b[2]! },
      )
    expect(pair([50, 2.6772, -79.7751], [50, 0, -82.7485])).toBeCloseTo(2.0425, 3)
    expect(pair([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387])).toBeCloseTo(1.2644, 3)
  })
})

describe.each(grounds)('by %s', (_, palette, words) => {
  it.each(texts.flatMap((text) => papers.map((paper) => [text, paper] as const)))(
    '%s is read on %s, at the level of its ground',
    (text, paper) => {
      expect(wcagContrast(palette[text], palette[paper])).toBeGreaterThanOrEqual(words)
    },
  )
  it.each(marks.flatMap((mark) => papers.map((paper) => [mark, paper] as const)))(
    '%s is seen on %s at 3:1 or more',
    (mark, paper) => {
      expect(wcagContrast(palette[mark], palette[paper])).toBeGreaterThanOrEqual(3)
    },
  )
  it.each(wordPairs)('%s is read on %s', (front, back) => {
    expect(wcagContrast(palette[front], palette[back])).toBeGreaterThanOrEqual(words)
  })
  it.each(pairs)('%s on %s keeps %d:1', (front, back, floor) => {
    expect(wcagContrast(palette[front], palette[back])).toBeGreaterThanOrEqual(floor)
  })
  it.each(views)('the four risk colours stay apart: %s', (_view, seen) => {
    expect(leastOf(palette, ramp, seen)).toBeGreaterThanOrEqual(7.5)
  })
  // Crews have a dash and a letter besides; in greyscale those carry them.
  it.each(views.slice(0, 4))('the four crew inks stay apart: %s', (_view, seen) => {
    expect(leastOf(palette, crews, seen)).toBeGreaterThanOrEqual(7.5)
  })
  it('contrast with the ground grows with risk, in even steps of lightness', () => {
    const contrast = ramp.map((risk) => wcagContrast(palette[risk], palette.paper))
    expect(contrast).toEqual([...contrast].sort((a, b) => a - b))
    const light = ramp.map((risk) => converter('oklch')(palette[risk]).l)
    const steps = light.slice(1).map((l, i) => Math.abs(l - light[i]!))
    expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(0.012)
  })
})

const rule = (css: string, selector: string): Record<string, string> => {
  const start = css.indexOf(`${selector} {`)
  if (start < 0) return {}
  const body = css.slice(start, css.indexOf('}', start))
  return Object.fromEntries(
    [...body.matchAll(/--([a-z0-9-]+):\s*(#[0-9a-f]{6})/g)].map((m) => [m[1]!, m[2]!]),
  )
}

describe('one source of every colour', () => {
  it('writes all of them for paper, for bark and for sun', () => {
    expect(Object.keys(rule(colourCss(), ':root')).sort()).toEqual([...colourTokens].sort())
    expect(rule(colourCss(), ':root[data-ground="bark"]')).toEqual({ ...nightPalette })
    expect(rule(colourCss(), ':root[data-ground="sun"]')).toEqual({ ...sunPalette })
  })

  const look = new URL('../../apps/web/src/look/', import.meta.url)
  const sheet = new URL('tokens.css', look)
  it.skipIf(!existsSync(sheet))(
    'the web has no other colours (skipped where the web has no tokens yet)',
    () => {
      const declared = [...readFileSync(sheet, 'utf8').matchAll(/--([a-z0-9-]+):\s*(#[0-9a-f]{3,8})/gi)].map(
        (m) => [m[1]!, m[2]!] as const,
      )
      for (const [token, colour] of declared)
        expect(
          grounds.map(([, palette]) => palette[token as ColourToken]),
          token,
        ).toContain(colour)
      const names = new Set(declared.map(([token]) => token))
      const takesOurs = readdirSync(look).some(
        (file) => /\.tsx?$/.test(file) && readFileSync(new URL(file, look), 'utf8').includes('colourCss()'),
      )
      expect(takesOurs || colourTokens.every((token) => names.has(token))).toBe(true)
    },
  )
})
