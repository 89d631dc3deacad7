import type { Outcome } from '@underbough/model'
import { proposeSegments, readTrace, type TraceColumns, type TraceProposal } from '@underbough/wood'
import { useMemo } from 'react'

interface ReadTrace {
  proposal: TraceProposal
  /** Where the trace ends. */
  endCm: number
}

/** A trace as the program reads it, with the borders it proposes; null while its columns or its unit are not said. */
export function useTrace(
  raw: string,
  columns: TraceColumns | null,
  barkHintCm: number | null,
): Outcome<ReadTrace> | null {
  const { depthUnit, depthColumn, resistanceColumn } = columns ?? {}
  return useMemo(() => {
    if (raw === '' || depthUnit === undefined || depthColumn === undefined || resistanceColumn === undefined)
      return null
    const read = readTrace(raw, { depthUnit, depthColumn, resistanceColumn })
    if (!read.ok) return read
    const proposal = proposeSegments(read.value, barkHintCm === null ? {} : { barkHintCm })
    return { ok: true, value: { proposal, endCm: read.value.depthsCm.at(-1) ?? 0 }, notes: read.notes }
  }, [raw, depthUnit, depthColumn, resistanceColumn, barkHintCm])
}
