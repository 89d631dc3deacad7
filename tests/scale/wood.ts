import { TreePortrait } from '@underbough/pictures'
import { polygonMoments, type SectionInput, sectionOf } from '@underbough/wood'
import { polygonArea, polygonCentroid } from 'd3-polygon'
import { createElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { coverage, inventedStem } from '../published/wood-section-truth.ts'
import type { BenchRow } from './row.ts'
import { traceRows } from './wood-trace.ts'

/** Section with its band, portrait to markup, trace to segments; and how often the band holds what is known. */
export async function run(): Promise<BenchRow[]> {
  const closed = inventedStem(3, 8, false).input
  const open = inventedStem(3, 8, true).input
  return [
    sectionRow('section, 8 readings, 200 draws', closed),
    sectionRow('section, 8 readings and an opening, 200 draws', open),
    sectionRow('section, 8 readings, half of them stopped in firm wood, 200 draws', {
      ...closed,
      readings: closed.readings.map((one, i) =>
        i % 2 ? one : { ...one, segments: one.segments.filter((segment) => segment.condition === 'sound') },
      ),
    }),
    portraitRow(),
    ...momentRows(),
    ...[false, true].flatMap((isOpen) => [4, 6, 8, 12].flatMap((readings) => coverageRows(readings, isOpen))),
    ...traceRows(),
  ]
}

function median(times: number, work: () => void): number {
  for (let i = 0; i < 40; i++) work()
  const taken = Array.from({ length: times }, () => {
    const began = performance.now()
    work()
    return performance.now() - began
  }).sort((a, b) => a - b)
  return taken[Math.floor(taken.length / 2)]!
}

const sectionRow = (name: string, input: SectionInput): BenchRow => ({
  case: name,
  figure: median(25, () => {
    if (!sectionOf(input).ok) throw new Error('refused')
  }),
  unit: 'ms',
  note: 'median of 25',
})

function portraitRow(): BenchRow {
  const tree = {
    status: 'standing' as const,
    species: 'Fagus sylvatica',
    commonName: 'Beech',
    group: null,
    stems: [{ diameterCm: 92, measuredAtM: 1.3 }],
    heightM: 24.6,
    crownBaseHeightM: 5,
    crownRadiiM: { n: 7.2, e: 9.1, s: 8.4, w: 5.6 },
    lean: { bearingDeg: 102, angleDeg: 6 },
  }
  const element = createElement(TreePortrait, { tree, widthPx: 508 })
  return {
    case: 'portrait to markup',
    figure: median(50, () => {
      renderToStaticMarkup(element)
    }),
    unit: 'ms',
    note: 'median of 50',
  }
}

function momentRows(): BenchRow[] {
  const ring = Array.from({ length: 360 }, (_, i): [number, number] => [
    (20 + 3 * Math.cos(i / 20)) * Math.cos((i * Math.PI) / 180),
    (20 + 3 * Math.cos(i / 20)) * Math.sin((i * Math.PI) / 180),
  ])
  const each = 2000
  const ours = median(9, () => {
    for (let i = 0; i < each; i++) polygonMoments([ring])
  })
  const theirs = median(9, () => {
    for (let i = 0; i < each; i++) {
      polygonArea(ring)
      polygonCentroid(ring)
    }
  })
  return [
    {
      case: 'area, centroid and second moments of 360 corners',
      figure: (1000 * ours) / each,
      unit: 'µs',
      peer: 'd3-polygon, area and centroid alone',
      peerFigure: (1000 * theirs) / each,
      ratio: ours / theirs,
    },
  ]
}

function coverageRows(readings: number, open: boolean): BenchRow[] {
  const { counted, below, above, width } = coverage(400, readings, open)
  const title = `${counted} invented stems, ${readings} readings${open ? ', open' : ''}`
  return [
    {
      case: `${title}: known strength below the 5 % figure`,
      figure: 100 * below,
      unit: '%',
      note: 'nominal 5',
    },
    { case: `${title}: above the 95 % figure`, figure: 100 * above, unit: '%', note: 'nominal 5' },
    { case: `${title}: width of the range`, figure: 100 * width, unit: 'points' },
  ]
}
