import { riskWords, treeStatuses, zoneKinds } from '@underbough/model'
import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { dayPalette, nightPalette } from '../palette/colours.ts'
import { cellRings, discRadiusPx, leastRingPx } from './cell.ts'
import { crewLine, dashInWidths } from './crews.ts'
import { keepings } from './glyphs.ts'
import { markKey, markSvg } from './mark.ts'
import { describeTreeMark, ringRadiiPx, type TreeMarkSpec } from './tree.ts'
import { KeepingGlyph, Mark, StepGlyph, TreeMark, ZoneSwatch } from './views.tsx'

const tree = (spec: TreeMarkSpec) => markSvg({ mark: 'tree', ...spec }, dayPalette).svg
/** Rings are the open strokes of 1.75 px. */
const rings = (svg: string) =>
  [...svg.matchAll(/<(circle|path)[^>]*stroke-width="1.75"[^>]*>/g)].map((m) => m[0])

describe('tree marks', () => {
  it.each(riskWords.map((risk, i) => [risk, i + 1] as const))(
    '%s has %i rings of its own colour',
    (risk, count) => {
      const drawn = rings(tree({ risk }))
      expect(drawn).toHaveLength(count)
      for (const ring of drawn) expect(ring).toContain(`stroke="${dayPalette[`risk-${count}` as 'risk-1']}"`)
      expect(drawn.map((ring) => Number(/ r="([\d.]+)"/.exec(ring)?.[1]))).toEqual(
        ringRadiiPx.slice(0, count),
      )
    },
  )

  it('cuts every ring at north-east with a cut of one width, and only when overdue', () => {
    expect(rings(tree({ risk: 'extreme' })).every((ring) => ring.startsWith('<circle'))).toBe(true)
    const cut = rings(tree({ risk: 'extreme', overdue: true }))
    expect(cut).toHaveLength(4)
    const gaps = cut.map((ring) => {
      const [, x0, y0, x1, y1] = /M([-\d.]+) ([-\d.]+)A.* ([-\d.]+) ([-\d.]+)"/.exec(ring)!.map(Number)
      expect((x0! + x1!) / 2).toBeGreaterThan(0)
      expect((y0! + y1!) / 2).toBeLessThan(0)
      return Math.hypot(x1! - x0!, y1! - y0!)
    })
    for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0]!, 1)
  })

  it('leaves the pith out where nobody has been', () => {
    const pith = `<circle r="1.75" fill="${dayPalette['risk-2']}"/>`
    expect(tree({ risk: 'moderate' })).toContain(pith)
    expect(tree({ risk: 'moderate', visited: false })).not.toContain(pith)
  })

  it('dots the ring of a tree never visited nor rated, and breaks off the ring of a rating not closed', () => {
    expect(rings(tree({ risk: null, visited: false }))[0]).toContain('stroke-dasharray')
    const unfinished = rings(tree({ risk: null }))
    expect(unfinished[0]).toMatch(/^<path/)
    expect(unfinished[0]).not.toContain('stroke-dasharray')
  })

  it('draws every state of a tree as its own mark', () => {
    const specs: TreeMarkSpec[] = [null, ...riskWords].flatMap((risk) =>
      [true, false].flatMap((overdue) => [true, false].map((visited) => ({ risk, overdue, visited }))),
    )
    const others: TreeMarkSpec[] = treeStatuses.slice(1).map((status) => ({ risk: 'low', status }))
    const all = [...specs, ...others, { risk: 'low' as const, selected: true }, { risk: null, outside: true }]
    expect(new Set(all.map(tree)).size).toBe(all.length)
    expect(new Set(all.map((spec) => markKey({ mark: 'tree', ...spec }))).size).toBe(all.length)
    expect(new Set(all.map(describeTreeMark)).size).toBe(all.length)
  })

  it('says its state in words on a page, and keeps quiet beside a word', () => {
    expect(renderToStaticMarkup(<TreeMark risk="high" overdue />)).toContain(
      'aria-label="High risk, overdue"',
    )
    expect(renderToStaticMarkup(<TreeMark risk="high" hidden />)).toContain('aria-hidden="true"')
  })

  it('uses custom properties on a page and real colours on a map', () => {
    expect(renderToStaticMarkup(<TreeMark risk="high" />)).toContain('var(--risk-3)')
    expect(tree({ risk: 'high', selected: true, overdue: true })).not.toContain('var(')
    expect(markSvg({ mark: 'tree', risk: 'high' }, nightPalette).svg).toContain(nightPalette['risk-3'])
  })

  it('stands in the middle of a box that holds it, at any pixel ratio', () => {
    const once = markSvg({ mark: 'tree', risk: 'extreme', selected: true }, dayPalette)
    const twice = markSvg({ mark: 'tree', risk: 'extreme', selected: true }, dayPalette, 2)
    expect([twice.width, twice.height]).toEqual([once.width * 2, once.height * 2])
    const [x, y, w, h] = /viewBox="([^"]+)"/.exec(once.svg)![1]!.split(' ').map(Number)
    expect([x! + w! / 2, y! + h! / 2]).toEqual([0, 0])
    expect(w! / 2).toBeGreaterThanOrEqual(ringRadiiPx[3] + 2.1)
  })
})

describe('cells', () => {
  const counts = fc.record({
    low: fc.nat(300),
    moderate: fc.nat(100),
    high: fc.nat(40),
    extreme: fc.nat(10),
  })

  it('gives each ring the area of its count where all are wide enough', () => {
    const rings = cellRings({ counts: { low: 40, moderate: 40, high: 40, extreme: 40 }, overdue: 0 })
    const areas = rings.map(({ outerPx }, i) => outerPx ** 2 - (rings[i - 1]?.outerPx ?? 0) ** 2)
    for (const area of areas) expect(area).toBeCloseTo(areas[0]!, 6)
    expect(rings[0]!.risk).toBe('extreme')
  })

  it('never loses a risk, and never grows past its radius', () => {
    fc.assert(
      fc.property(counts, fc.nat(50), (byRisk, unrated) => {
        const spec = { counts: byRisk, unrated, overdue: 0 }
        const total = Object.values(byRisk).reduce((a, b) => a + b, unrated)
        fc.pre(total > 0)
        const rings = cellRings(spec)
        expect(rings).toHaveLength(Object.values({ ...byRisk, unrated }).filter((v) => v > 0).length)
        expect(rings.at(-1)!.outerPx).toBeCloseTo(discRadiusPx(spec), 6)
        rings.forEach(({ outerPx }, i) => {
          expect(outerPx - (rings[i - 1]?.outerPx ?? 0)).toBeGreaterThan(leastRingPx - 1e-9)
        })
      }),
    )
  })

  it('says its counts, the worst first, and how many are overdue', () => {
    const html = renderToStaticMarkup(
      <Mark mark="cell" counts={{ low: 60, moderate: 22, high: 9, extreme: 3 }} overdue={28} />,
    )
    expect(html).toContain('aria-label="94 trees: 3 extreme, 9 high, 22 moderate, 60 low; 28 overdue"')
    expect(html).toContain('>94</text>')
  })

  it('saws as far round from north as the share overdue, and keeps the heart whole', () => {
    const cuts = (overdue: number) => {
      const { svg } = markSvg(
        { mark: 'cell', counts: { low: 60, moderate: 22, high: 9, extreme: 9 }, overdue },
        dayPalette,
      )
      return [...svg.matchAll(/M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)/g)].map((m) => m.slice(1).map(Number))
    }
    expect(cuts(0)).toHaveLength(0)
    const quarter = cuts(25)
    for (const [x0, y0, x1, y1] of quarter) {
      expect(x1! > 0 && y1! < 0).toBe(true)
      expect(Math.hypot(x0!, y0!)).toBeGreaterThan(6)
    }
    const bearings = quarter.map(([, , x, y]) => (Math.atan2(x!, -y!) * 180) / Math.PI)
    expect((bearings[0]! + bearings.at(-1)!) / 2).toBeCloseTo(45, 0)
    expect(cuts(50).length / quarter.length).toBeCloseTo(2, 0)
    expect(cuts(1)).toHaveLength(1)
  })
})

describe('crews', () => {
  it('tells sixteen crews apart by ink and dash without the letter', () => {
    const letters = [...'ABCDEFGHIJKLMNOP']
    const seen = letters.map((letter) => JSON.stringify(crewLine(letter)))
    expect(new Set(seen).size).toBe(16)
    expect(new Set(letters.slice(0, 4).map((letter) => crewLine(letter).ink)).size).toBe(4)
    expect(() => crewLine('AA')).toThrow(RangeError)
  })
  it('gives a map its dashes in widths of the line', () => {
    expect(dashInWidths([10, 4], 2)).toEqual([5, 2])
  })
})

describe('zones and glyphs', () => {
  it('gives every zone its own tile, the same size, with its tint', () => {
    const tiles = zoneKinds.map((kind) => markSvg({ mark: 'zone', kind }, dayPalette, 2))
    expect(new Set(tiles.map((tile) => tile.svg)).size).toBe(zoneKinds.length)
    for (const [i, tile] of tiles.entries()) {
      expect([tile.width, tile.height]).toEqual([32, 32])
      expect(tile.svg).toContain(dayPalette[`zone-${zoneKinds[i]!}`])
      if (zoneKinds[i] !== 'road') expect(tile.svg).toContain(dayPalette['zone-ink'])
    }
    expect(renderToStaticMarkup(<ZoneSwatch kind="play" />)).toContain('aria-label="play area"')
  })
  it('gives the three places of keeping three glyphs and three names', () => {
    const glyphs = keepings.map((keeping) => renderToStaticMarkup(<KeepingGlyph keeping={keeping} />))
    expect(new Set(glyphs).size).toBe(3)
    expect(glyphs[0]).toContain('aria-label="Not kept yet"')
  })
  it('names a step and its result', () => {
    expect(renderToStaticMarkup(<StepGlyph state="not-seen" step="twigs-leaves" />)).toContain(
      'aria-label="Twigs and leaves: not seen"',
    )
  })
})
