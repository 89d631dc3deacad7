import {
  done,
  type Outcome,
  type ProbeInput,
  probeInput,
  type Refusal,
  refusal,
  refused,
} from '@underbough/model'
import { readingOf } from './reading.ts'
import { refusalsOfForm } from './refusals.ts'
import type { Values } from './values.ts'
import { enters, wounds } from './words.ts'

const turned = (deg: number) => ((deg % 360) + 360) % 360

/**
 * What stands on the form as the office takes it. Refusals carry the path of their field in the record; `reading.rows.2` is the third row
 * of a core, `reading.stand` the decision about a trace's borders.
 */
export function checkReading(values: Values, id: string, visitId: string | null): Outcome<ProbeInput> {
  const { kind } = values
  const { reading, lacks } = readingOf(values)
  const input = {
    kind,
    id,
    visitId,
    label: values.label,
    heightM: heightOf(values),
    instrument: values.instrument,
    instrumentCondition: values.instrumentCondition,
    operator: values.operator,
    disinfected: values.disinfected === 'not-said' ? null : values.disinfected === 'yes',
    reason: values.reason,
    note: values.note,
    ...(enters(kind) ? entryOf(values) : {}),
    reading,
  }
  const parsed = probeInput.safeParse(input)
  const wrong: Refusal[] = [
    ...(visitId === null
      ? [refusal('required', 'visitId', { message: 'A reading belongs to a visit: choose one.' })]
      : []),
    ...lacks,
    ...(parsed.success ? [] : refusalsOfForm(parsed.error).filter(({ path }) => path !== 'visitId')),
  ]
  return wrong.length > 0 || !parsed.success ? refused(...wrong) : done(parsed.data)
}

/** A mallet round says its own heights; the record bears the first. */
const heightOf = ({ kind, heightM, sounding }: Values) =>
  kind === 'sounding' ? (sounding.rounds[0]?.heightM ?? null) : heightM

function entryOf({ kind, entryBearingDeg, offCentre, directionDeg, tiltDeg }: Values) {
  const aimed = offCentre && wounds(kind)
  return {
    entryBearingDeg,
    directionDeg: aimed ? directionDeg : entryBearingDeg === null ? 0 : turned(entryBearingDeg + 180),
    tiltDeg: tiltDeg ?? 0,
  }
}
