import { done, type Outcome, type Tree } from '@underbough/model'
import { drawnOf } from '@underbough/pictures'
import {
  type DragRecord,
  dragRecords,
  type GustInput,
  type GustRange,
  gustRange,
  type Known,
  polygonMoments,
  type Section,
  sectionModuli,
  type Terrain,
  type Wind,
  windLoad,
} from '@underbough/wood'
import { portraitTree } from '../../ground/targets.ts'
import { cellSource, type KnownWood } from './species.ts'

/** Figures that a person may put in the place of a default. */
export const windFields = {
  heightM: { name: 'Height', unit: 'm' },
  crownBaseM: { name: 'Crown base', unit: 'm' },
  meanCrownRadiusM: { name: 'Mean crown radius', unit: 'm' },
  stemDiameterCm: { name: 'Stem above the section', unit: 'cm' },
  weightAboveKg: { name: 'Weight above the section', unit: 'kg' },
  leanOffsetM: { name: 'That weight stands off the middle by', unit: 'm' },
  crushingStrengthMPa: { name: 'Crushing strength of green wood', unit: 'MPa' },
} as const
export type WindField = keyof typeof windFields
export type WindFigures = Readonly<Record<WindField, Known>>

/** `A`: stem wood above a section as a share of the cylinder of its diameter, and branches and leaves on top of it. */
const WEIGHT = { form: 0.5, branches: 1.5 } as const
/** `A`: the middle of the weight above a section lies half-way up. */
const MIDDLE_OF_WEIGHT = 0.5

/** Every figure from the tree's record, and how it came about. */
export function windDefaults(tree: Tree, section: Section, { wood }: KnownWood): WindFigures {
  const drawn = drawnOf(portraitTree(tree))
  const known = (value: number, measured: boolean, source: string): Known => ({
    value: rounded(value),
    mark: measured ? 'measured' : 'estimated',
    source: measured ? 'the record' : source,
  })
  const measured = (what: (typeof drawn.assumed)[number]) => !drawn.assumed.includes(what)
  const above = Math.max(0.1, drawn.heightM - section.heightM)
  const lean = tree.lean?.angleDeg ?? 0
  const stemM = drawn.stemM
  const crushing = wood.crushingStrengthMPa
  return {
    heightM: known(drawn.heightM, measured('height'), 'from the stem'),
    crownBaseM: known(drawn.crownBaseM, measured('crown base'), 'a share of the height (A)'),
    meanCrownRadiusM: known(
      (drawn.northM + drawn.eastM + drawn.southM + drawn.westM) / 4,
      measured('crown radii'),
      'a share of the height (A)',
    ),
    stemDiameterCm: known(100 * stemM, measured('stem'), 'from the height (A)'),
    weightAboveKg: {
      value: rounded(
        wood.densityKgM3.value * (Math.PI / 4) * stemM ** 2 * above * WEIGHT.form * WEIGHT.branches,
        2,
      ),
      mark: 'defaulted',
      source: `half a cylinder of the stem’s diameter, and half as much again for branches and leaves (A), at ${Math.round(wood.densityKgM3.value)} kg/m³`,
    },
    leanOffsetM: {
      value: rounded(Math.tan((lean * Math.PI) / 180) * above * MIDDLE_OF_WEIGHT),
      mark: lean > 0 ? 'estimated' : 'defaulted',
      source: lean > 0 ? `the lean of ${lean}°, half-way up (A)` : 'no lean on record; taken as upright (A)',
    },
    crushingStrengthMPa: {
      value: rounded(crushing.value, 3),
      mark: crushing.from === 'species' ? 'estimated' : 'defaulted',
      source: cellSource(crushing),
    },
  }
}

/** Three figures unless said: no default pretends to more. */
const rounded = (value: number, figures = 3) => (value === 0 ? 0 : Number(value.toPrecision(figures)))

/** What was typed over the defaults; a typed figure is somebody's estimate unless they write otherwise in their report. */
export const withTyped = (
  defaults: WindFigures,
  typed: Partial<Record<WindField, number | null>>,
): WindFigures =>
  Object.fromEntries(
    Object.entries(defaults).map(([key, known]) => {
      const value = typed[key as WindField]
      return [key, value == null ? known : { value, mark: 'estimated', source: 'typed in' }]
    }),
  ) as Record<WindField, Known>

const genusDrags: Readonly<Record<string, string>> = {
  Thuja: 'western redcedar',
  Tsuga: 'western hemlock',
  Pinus: 'lodgepole pine',
  Picea: 'Norway spruce',
  Betula: 'birch',
  Populus: 'black cottonwood, red alder, paper birch',
  Alnus: 'black cottonwood, red alder, paper birch',
}

/** The drag record nearest to a tree, and whether it is of its genus. */
export function dragOf({ match: { genus, group } }: KnownWood): { record: DragRecord; own: boolean } {
  const named = genus ? genusDrags[genus] : undefined
  const name = named ?? (group === 'softwood' ? 'lodgepole pine' : 'black cottonwood, red alder, paper birch')
  return { record: dragRecords.find((one) => one.name === name)!, own: named !== undefined }
}

/** Area left and section modulus of the sound outline, as the gust range asks for them. Null while a section gives no share. */
export function sectionFigures(section: Section): GustInput['section'] | null {
  const { share, outline, stepDeg, wallCm } = section
  if (!share || !wallCm) return null
  const ring = (radii: readonly number[]) =>
    radii.map((r, i): [number, number] => {
      const angle = (i * stepDeg * Math.PI) / 180
      return [r * Math.sin(angle), r * Math.cos(angle)]
    })
  const wood = ring(outline.woodCm)
  const whole = polygonMoments([wood])
  if (!whole) return null
  const bearings =
    section.weakestBearingDeg === null
      ? Array.from({ length: 60 }, (_, i) => i * 3)
      : [section.weakestBearingDeg]
  const modulus = Math.min(...sectionModuli(whole, wood.flat(), bearings))
  const hollow = polygonMoments([ring(outline.woodCm.map((r, i) => Math.max(0, r - wallCm.cautious[i]!)))])
  const areaCm2 =
    section.areaShare === null ? whole.area - (hollow?.area ?? 0) : section.areaShare * whole.area
  return {
    heightM: section.heightM,
    stemDiameterCm: { value: 0, mark: 'defaulted', source: '' },
    areaCm2: {
      value: areaCm2,
      mark: 'estimated',
      source:
        section.areaShare === null ? 'the section at its cautious wall' : 'the section at its middle wall',
    },
    soundModulusCm3: { value: modulus, mark: 'estimated', source: 'the outline of the section' },
    share: { p5: share.p05, p50: share.p50, p95: share.p95 },
  }
}

/** The range of gusts for a section. */
export function gustsOf(section: Section, figures: WindFigures, drag: DragRecord): Outcome<GustRange> | null {
  const of = sectionFigures(section)
  if (!of) return null
  return gustRange({
    crown: {
      heightM: figures.heightM,
      crownBaseM: figures.crownBaseM,
      meanCrownRadiusM: figures.meanCrownRadiusM,
      areaKind: drag.areaKind,
      leaf: drag.leaf,
    },
    drag,
    section: { ...of, stemDiameterCm: figures.stemDiameterCm },
    weightAboveKg: figures.weightAboveKg,
    leanOffsetM: figures.leanOffsetM,
    crushingStrengthMPa: figures.crushingStrengthMPa,
    bendingStrengthMPa: null,
  })
}

/** A wind somebody has a figure for. */
export interface TypedWind {
  kind: Wind['kind']
  speedMps: number | null
  terrain: Terrain
}

/** What a typed wind brings to the section, in one sentence; null while nothing is typed. An indication of size. */
export function typedWindWords(
  { kind, speedMps, terrain }: TypedWind,
  section: Section,
  figures: WindFigures,
  drag: DragRecord,
): Outcome<string> | null {
  if (speedMps === null) return null
  const wind: Wind = kind === 'gust3s' ? { kind, speedMps, heightM: 10 } : { kind, vbMps: speedMps, terrain }
  const load = windLoad({
    wind,
    drag,
    shape: {
      heightM: figures.heightM.value,
      crownBaseM: figures.crownBaseM.value,
      meanCrownRadiusM: figures.meanCrownRadiusM.value,
      stemDiameterCm: figures.stemDiameterCm.value,
      areaKind: drag.areaKind,
      leaf: drag.leaf,
      sectionHeightM: section.heightM,
    },
  })
  if (!load.ok) return load
  const kilo = (value: number) => Number((value / 1000).toPrecision(2))
  const { crownForceN, stemForceN, momentNm, dragMark } = load.value
  const marked = dragMark === 'as tested' ? '' : `; the drag is ${dragMark}`
  return done(
    `That wind pushes with about ${kilo(crownForceN + stemForceN)} kN and bends the stem at ${section.heightM} m with about ${kilo(momentNm)} kN·m, by the outline and this drag alone; sway and all doubts left out${marked}.`,
  )
}
