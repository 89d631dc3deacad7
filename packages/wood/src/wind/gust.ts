import { done, type Outcome, refused } from '@underbough/model'
import { type Bounded, outside } from '../limits.ts'
import { type Capacity, gustsReaching } from './capacity.ts'
import { type DragMark, dragAt } from './drag.ts'
import { bendingOf, inputLines } from './lines.ts'
import { type WindLoad, windLoad } from './load.ts'
import type { GustInput, GustRange } from './types.ts'
import { endWords, gustEnds, gustWords } from './words.ts'

export const gustMethodVersion = 'gust 1'

/** Standard gravity, m/s². */
const gravity = 9.80665

function limitsOf(input: GustInput): Record<string, Bounded> {
  const { section } = input
  const { p5, p50, p95 } = section.share
  return {
    'section.areaCm2': [section.areaCm2.value, 0.1, 2e6, 'cm²'],
    'section.soundModulusCm3': [section.soundModulusCm3.value, 0.01, 1e9, 'cm³'],
    'section.share.p95': [p95, 0, 1.05, ''],
    'section.share.p50': [p50 ?? p95, 0, p95, ''],
    'section.share.p5': [p5, 0, p50 ?? p95, ''],
    weightAboveKg: [input.weightAboveKg.value, 0, 1e6, 'kg'],
    leanOffsetM: [input.leanOffsetM.value, 0, 100, 'm'],
    crushingStrengthMPa: [input.crushingStrengthMPa.value, 1, 150, 'MPa'],
    bendingStrengthMPa: [bendingOf(input).value, input.crushingStrengthMPa.value, 400, 'MPa'],
  }
}

/** Load of a gust of 1 m/s: all loads grow with its square. */
function unitLoad({ crown, section, drag }: GustInput): Outcome<WindLoad> {
  return windLoad({
    wind: { kind: 'gust3s', speedMps: 1, heightM: 10 },
    shape: {
      heightM: crown.heightM.value,
      crownBaseM: crown.crownBaseM.value,
      meanCrownRadiusM: crown.meanCrownRadiusM.value,
      areaKind: crown.areaKind,
      leaf: crown.leaf,
      sectionHeightM: section.heightM,
      stemDiameterCm: section.stemDiameterCm.value,
    },
    drag,
  })
}

function capacityOf(input: GustInput, load: WindLoad, strengthMPa: number): Capacity {
  const weightN = input.weightAboveKg.value * gravity
  return {
    strengthPa: strengthMPa * 1e6,
    soundModulusM3: input.section.soundModulusCm3.value / 1e6,
    share: input.section.share,
    weightStressPa: weightN / (input.section.areaCm2.value / 1e4),
    leanMomentNm: weightN * input.leanOffsetM.value,
    crownMomentNm: load.crownMomentNm,
    stemMomentNm: load.stemMomentNm,
  }
}

function relativeOf({ p5, p50, p95 }: GustInput['section']['share']): GustRange['relative'] {
  const percent = (share: number) => Math.round(share * 100)
  const middle = p50 === null ? '' : ` (middle ${percent(p50)} %)`
  return {
    leastPercent: percent(p5),
    middlePercent: p50 === null ? null : percent(p50),
    mostPercent: percent(p95),
    sentence: `This section reaches a given bending stress at ${percent(p5)} to ${percent(p95)} %${middle} of the wind moment that the same outline would need if sound.`,
  }
}

const dragSentences: Record<DragMark, string | null> = {
  'as tested': null,
  extrapolated: 'Part of the range is extrapolated: the drag was measured in slower wind and is held.',
  'below the tested speed':
    'Part of the range lies under the speed the drag was measured at; crowns bend less there and catch more wind than it says.',
}

/**
 * What may be said of wind on a section, honestly: the relative figure, and the range of gusts over three seconds at which N/A + M/Z
 * reaches the crushing strength of green wood. The wind's and the lean's moment act the same way; a gust is ½ρv² at every height. The range
 * is 5 to 95 % over the doubts of drag, area, arm, pressure, sway, strength and section (`inputs` lists them all), rounded outwards to 5 m/s
 * and to nothing above 60.
 *
 * Codes: `out-of-range`, `wind-area-kind`.
 */
export function gustRange(input: GustInput): Outcome<GustRange> {
  const wrong = outside(limitsOf(input))
  const load = unitLoad(input)
  if (!load.ok) wrong.push(...load.refusals)
  if (wrong.length > 0 || !load.ok) return refused(...wrong)

  const crushing = gustsReaching(capacityOf(input, load.value, input.crushingStrengthMPa.value))
  const bendingMPa = bendingOf(input).value
  const bending = gustsReaching(capacityOf(input, load.value, bendingMPa))
  const gusts = gustEnds(crushing.p5, crushing.p95)
  const most = gustEnds(bending.p95, bending.p95).most
  const marks = [crushing.p5, crushing.p95].map((speed) => dragAt(input.drag, speed).mark)
  const dragMarks = [...new Set(marks)]
  const ratio = (bendingMPa / input.crushingStrengthMPa.value).toFixed(1)
  return done({
    methodVersion: gustMethodVersion,
    relative: relativeOf(input.section.share),
    gusts: {
      ...gusts,
      sentence: `Gusts over three seconds at which bending and weight reach the crushing strength of green wood in this section: ${gustWords(gusts)}.`,
    },
    upper: {
      most,
      sentence: `The bending strength of clear specimens is about ${ratio} times higher, shown only as an upper figure: ${endWords(most)}.`,
    },
    dragMarks,
    inputs: inputLines(input),
    sentences: [
      'Root plate, unions and branches not assessed.',
      'An order of size only: nine times in ten within the range if the doubts listed are right.',
      ...(crushing.p5 === 0 ? ['At the low end weight and lean alone reach the crushing strength.'] : []),
      ...dragMarks.flatMap((mark) => dragSentences[mark] ?? []),
    ],
  })
}
