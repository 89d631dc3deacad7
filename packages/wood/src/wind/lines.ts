import { stemDragCoefficient } from './load.ts'
import { windSpread } from './spread.ts'
import { airDensityKgM3 } from './terrain.ts'
import type { GustInput, InputLine, Known } from './types.ts'

/** Median of bending over crushing strength, 62 green rows of the Wood Handbook, Table 5-3. */
const bendingOverCrushing = 2.27

const ours = 'assumption (A)'
const line = (name: string, unit: string, known: Known): InputLine => ({ name, unit, ...known })
const assumed = (name: string, value: number, unit: string, source = ours): InputLine => ({
  name,
  value,
  unit,
  mark: 'defaulted',
  source,
})
/** A doubt given as a standard deviation of logarithms, in words. */
const doubt = (name: string, sd: number) => assumed(`doubt of the ${name}`, sd, 'of its logarithm, ± one sd')

/** The bending strength that the upper figure uses. */
export function bendingOf({ bendingStrengthMPa, crushingStrengthMPa }: GustInput): Known {
  return (
    bendingStrengthMPa ?? {
      value: bendingOverCrushing * crushingStrengthMPa.value,
      mark: 'defaulted',
      source: `${bendingOverCrushing} × crushing strength, the median of 62 green rows, Wood Handbook, Table 5-3`,
    }
  )
}

/** Everything that went into a gust range, each with how it came about. */
export function inputLines(input: GustInput): InputLine[] {
  const { crown, section, drag } = input
  const readings: Known = { value: 0, mark: 'measured', source: 'the section’s readings' }
  const percent = (share: number): Known => ({
    ...readings,
    value: Math.round(share * 100),
    mark: 'estimated',
  })
  return [
    line('height', 'm', crown.heightM),
    line('crown base', 'm', crown.crownBaseM),
    line('mean crown radius', 'm', crown.meanCrownRadiusM),
    line(`drag coefficient of the crown (${drag.name}, ${drag.areaKind} area, ${drag.leaf})`, '', {
      value: drag.cd,
      mark: 'estimated',
      source: drag.source,
    }),
    line('speed the drag was measured at', 'm/s', {
      value: drag.speedMps,
      mark: 'measured',
      source: drag.source,
    }),
    line('height of the section', 'm', { ...readings, value: section.heightM }),
    line('stem diameter between section and crown', 'cm', section.stemDiameterCm),
    line('remaining wood', 'cm²', section.areaCm2),
    line('section modulus of the outline if sound', 'cm³', section.soundModulusCm3),
    line('share of it left, 5 %', '%', percent(section.share.p5)),
    ...(section.share.p50 === null ? [] : [line('share of it left, 50 %', '%', percent(section.share.p50))]),
    line('share of it left, 95 %', '%', percent(section.share.p95)),
    line('weight above', 'kg', input.weightAboveKg),
    line('offset of that weight', 'm', input.leanOffsetM),
    line('crushing strength of green wood', 'MPa', input.crushingStrengthMPa),
    line('bending strength of green wood, clear specimens', 'MPa', bendingOf(input)),
    assumed('drag coefficient of the bare stem', stemDragCoefficient, ''),
    assumed('density of air', airDensityKgM3, 'kg/m³', 'EN 1991-1-4, recommended value'),
    doubt('drag coefficient', windSpread.drag),
    doubt('frontal area', windSpread.area),
    doubt('height the wind acts at', windSpread.arm),
    doubt('pressure of a gust over a whole crown', windSpread.pressure),
    doubt('strength', windSpread.strength),
    assumed('sway, least', windSpread.dynamicLeast, '× the load'),
    assumed('sway, most', windSpread.dynamicMost, '× the load'),
  ]
}
