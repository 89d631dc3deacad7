import type { CoreManner, WoodCondition, WoodSegment } from '@underbough/model'
import type { DepthUnit } from '@underbough/wood'
import type { ProbeKind } from './words.ts'

/** A stretch of a core as it is entered: it begins where the one before ends. `unread` leaves a gap. */
export interface SegmentRow {
  condition: WoodCondition | 'unread' | null
  toCm: number | null
}
interface Entry {
  entryBearingDeg: number | null
  offCentre: boolean
  directionDeg: number | null
  tiltDeg: number | null
}
interface CoreValues {
  borerLengthCm: number | null
  reachedCm: number | null
  barkCm: number | null
  rows: SegmentRow[]
  ringsCounted: number | null
  innermostBy: 'widths' | 'count'
  /** As typed: widths with blanks or semicolons between. */
  innermostRings: string
  innermost10mmRings: number | null
  outerTenRingsMm: number | null
  pith: 'reached' | 'missed' | 'not-known'
  pithAtCm: number | null
  chordMm: number | null
  arcHeightMm: number | null
  manner: CoreManner | null
  smell: string
}
export interface TraceValues {
  fileName: string
  raw: string
  depthUnit: DepthUnit | null
  depthColumn: number
  resistanceColumn: number
  resistanceUnit: string
  barkCm: number | null
  /** Borders as the person has them; null as long as the program's stand untouched. */
  borders: { barkCm: number | null; segments: WoodSegment[] } | null
  /** What was decided about the borders; null until somebody chose. */
  stand: 'accepted' | 'proposed' | null
}
export interface SoundingRound {
  heightM: number | null
  struck: 'all-round' | 'part'
  dullArcs: { fromBearingDeg: number | null; toBearingDeg: number | null }[]
}
export interface BreakRow {
  atCm: number | null
  angleDeg: number | null
  loadN: number | null
}
export interface BearingRow {
  bearingDeg: number | null
  cm: number | null
}
/** What stands on the form, of every kind at once, so that nothing is lost where the kind is changed. Empty numbers are null. */
export interface Values extends Entry {
  kind: ProbeKind
  label: string
  heightM: number | null
  instrument: string
  instrumentCondition: string
  operator: string
  disinfected: 'yes' | 'no' | 'not-said'
  reason: string
  note: string
  core: CoreValues
  trace: TraceValues
  sounding: { rounds: SoundingRound[] }
  fracture: {
    ofProbeId: string | null
    coreDiameterMm: number | null
    leverMm: number | null
    breaks: BreakRow[]
  }
  laboratory: {
    laboratory: string
    question: string
    result: string
    reportedOn: string
    manner: 'brittle' | 'fibrous' | null
  }
  opening: {
    fromBearingDeg: number | null
    toBearingDeg: number | null
    depthCm: number | null
    wallFromCm: number | null
    wallToCm: number | null
    fromHeightM: number | null
    toHeightM: number | null
  }
  cut: { walls: BearingRow[] }
  outline: { by: 'girth' | 'radii'; girthCm: number | null; barkCm: number | null; radii: BearingRow[] }
}

/** A form with nothing on it but what is usual: struck all round, straight in, the person themselves. */
export function emptyValues(kind: ProbeKind, label: string, operator: string): Values {
  return {
    kind,
    label,
    heightM: null,
    entryBearingDeg: null,
    offCentre: false,
    directionDeg: null,
    tiltDeg: null,
    instrument: '',
    instrumentCondition: '',
    operator,
    disinfected: 'not-said',
    reason: '',
    note: '',
    core: {
      borerLengthCm: null,
      reachedCm: null,
      barkCm: null,
      rows: [{ condition: null, toCm: null }],
      ringsCounted: null,
      innermostBy: 'widths',
      innermostRings: '',
      innermost10mmRings: null,
      outerTenRingsMm: null,
      pith: 'not-known',
      pithAtCm: null,
      chordMm: null,
      arcHeightMm: null,
      manner: null,
      smell: '',
    },
    trace: {
      fileName: '',
      raw: '',
      depthUnit: null,
      depthColumn: 0,
      resistanceColumn: 1,
      resistanceUnit: '',
      barkCm: null,
      borders: null,
      stand: null,
    },
    sounding: { rounds: [emptyRound] },
    fracture: { ofProbeId: null, coreDiameterMm: null, leverMm: null, breaks: [emptyBreak] },
    laboratory: { laboratory: '', question: '', result: '', reportedOn: '', manner: null },
    opening: {
      fromBearingDeg: null,
      toBearingDeg: null,
      depthCm: null,
      wallFromCm: null,
      wallToCm: null,
      fromHeightM: null,
      toHeightM: null,
    },
    cut: { walls: bearings(8) },
    outline: { by: 'girth', girthCm: null, barkCm: null, radii: bearings(8) },
  }
}
export const emptyRound: SoundingRound = { heightM: null, struck: 'all-round', dullArcs: [] }
export const emptyBreak: BreakRow = { atCm: null, angleDeg: null, loadN: null }
/** Evenly spaced bearings from north with nothing measured yet. */
export const bearings = (count: number): BearingRow[] =>
  Array.from({ length: count }, (_, i) => ({ bearingDeg: (i * 360) / count, cm: null }))
