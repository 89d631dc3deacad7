import { type Refusal, refusal, type WoodSegment } from '@underbough/model'
import { proposeSegments, readTrace } from '@underbough/wood'
import { barkHintOf, columnsOf } from './trace.ts'
import type { BearingRow, SegmentRow, Values } from './values.ts'

interface Made {
  /** The record's own part of its kind; still to be checked. */
  reading: unknown
  /** What the form lacks that the record's check would not name. */
  lacks: Refusal[]
}
const whole = (reading: unknown): Made => ({ reading, lacks: [] })

/** The part of a form that belongs to its kind. */
export function readingOf(values: Values): Made {
  const { kind, laboratory, opening, cut, outline, fracture, sounding } = values
  switch (kind) {
    case 'core':
      return coreOf(values)
    case 'drill-trace':
      return traceOf(values)
    case 'sounding':
      return whole(sounding)
    case 'fracture-test':
      return whole(fracture)
    case 'laboratory':
      return whole({ ...laboratory, reportedOn: laboratory.reportedOn || null })
    case 'opening': {
      const { wallFromCm: from, wallToCm: to, ...rest } = opening
      return whole({ ...rest, edgeWallsCm: from === null && to === null ? null : { from, to } })
    }
    case 'cut':
      return whole({
        walls: measured(cut.walls).map(({ bearingDeg, cm }) => ({ bearingDeg, wallCm: cm })),
      })
    case 'outline':
      return whole(
        outline.by === 'girth'
          ? { by: 'girth', girthCm: outline.girthCm, barkCm: outline.barkCm }
          : {
              by: 'radii',
              radii: measured(outline.radii).map(({ bearingDeg, cm }) => ({ bearingDeg, radiusCm: cm })),
              barkCm: outline.barkCm,
            },
      )
  }
}

/** Rows with a figure; a bearing at which nothing was measured is left out. */
const measured = (rows: readonly BearingRow[]) => rows.filter(({ cm }) => cm !== null)
/** Where a row of the form stands in the record. */
export const placeOfRow = (rows: readonly BearingRow[], i: number) => measured(rows.slice(0, i)).length

const isEmpty = ({ condition, toCm }: SegmentRow) => condition === null && toCm === null
/** Where each row begins: at the end of the bark, then where the row before ends. */
export function startsOf(rows: readonly SegmentRow[], barkCm: number | null): (number | null)[] {
  return rows.map((_, i) => (i === 0 ? barkCm : (rows[i - 1]!.toCm ?? null)))
}
/** Where a row of the form stands among the record's segments. */
export const placeOfSegment = (rows: readonly SegmentRow[], i: number) =>
  rows.slice(0, i).filter((row) => !isEmpty(row) && row.condition !== 'unread').length

/** The segments of the rows that are whole, for the drawing and for the record. */
export function segmentsOf(rows: readonly SegmentRow[], barkCm: number | null): WoodSegment[] {
  const starts = startsOf(rows, barkCm ?? 0)
  return rows.flatMap(({ condition, toCm }, i) => {
    const fromCm = starts[i]
    if (
      condition === null ||
      condition === 'unread' ||
      toCm === null ||
      fromCm === null ||
      fromCm === undefined
    )
      return []
    return [{ fromCm, toCm, condition }]
  })
}

function coreOf({ core }: Values): Made {
  const lacks = core.rows.flatMap((row, i): Refusal[] => {
    if (isEmpty(row)) return []
    return [
      ...(row.condition === null
        ? [refusal('required', `reading.rows.${i}.condition`, { message: 'Say how the wood is here.' })]
        : []),
      ...(row.toCm === null
        ? [refusal('required', `reading.rows.${i}.toCm`, { message: 'Say where this ends.' })]
        : []),
    ]
  })
  const widths = core.innermostRings.split(/[\s;]+/).filter(Boolean)
  const rings = widths.map((word) => Number(word.replace(',', '.')))
  if (core.innermostBy === 'widths' && rings.some((ring) => !Number.isFinite(ring)))
    lacks.push(
      refusal('number-unreadable', 'reading.innermostRingsMm', {
        message: 'Write widths in mm with a blank between: 1.2 1.4 0.9.',
      }),
    )
  const pith =
    core.pith === 'reached'
      ? { reached: true, atCm: core.pithAtCm }
      : core.pith === 'missed'
        ? { reached: false, chordMm: core.chordMm, arcHeightMm: core.arcHeightMm }
        : null
  return {
    lacks,
    reading: {
      borerLengthCm: core.borerLengthCm,
      reachedCm: core.reachedCm,
      barkCm: core.barkCm,
      segments: segmentsOf(core.rows, core.barkCm),
      ringsCounted: core.ringsCounted,
      innermostRingsMm: core.innermostBy === 'widths' ? rings.filter(Number.isFinite) : [],
      innermost10mmRings: core.innermostBy === 'count' ? core.innermost10mmRings : null,
      outerTenRingsMm: core.outerTenRingsMm,
      pith,
      manner: core.manner,
      smell: core.smell,
    },
  }
}

function traceOf({ trace }: Values): Made {
  const columns = columnsOf(trace)
  const read = columns && trace.raw ? readTrace(trace.raw, columns) : null
  const lacks: Refusal[] = []
  if (trace.raw && !trace.depthUnit)
    lacks.push(
      refusal('required', 'reading.depthUnit', {
        message: 'Say in which unit the depth is written; the file cannot be trusted to.',
      }),
    )
  if (read && !read.ok)
    lacks.push(
      refusal(read.refusals[0]!.code, 'reading.raw', {
        message: 'The rows named here cannot be read. Correct the file and choose it again.',
      }),
    )
  if (read?.ok && trace.stand === null)
    lacks.push(
      refusal('required', 'reading.stand', {
        message: 'Say whether you stand by these borders or leave them as proposed.',
      }),
    )
  const proposal = read?.ok ? proposeSegments(read.value, barkHintOf(trace)) : null
  return {
    lacks,
    reading: {
      raw: trace.raw,
      // Named above in words of its own, so that it is not refused twice.
      depthUnit: trace.depthUnit ?? 'mm',
      depthColumn: trace.depthColumn,
      resistanceColumn: trace.resistanceColumn,
      resistanceUnit: trace.resistanceUnit,
      barkCm: trace.barkCm,
      proposed: {
        method: proposal?.method ?? 'trace-1',
        barkCm: proposal?.barkCm ?? null,
        segments: proposal?.segments ?? [],
      },
    },
  }
}
