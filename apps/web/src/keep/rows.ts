import { type KeptEntry, waitingEntry } from '@underbough/field'
import type { BordersInput, EntryKind, ProbeInput, Refusal } from '@underbough/model'

/** The original bytes of a photo, once for each digest. */
export interface KeptFile {
  sha256: string
  name: string
  file: Blob
  keptAt: number
}
/** A small thing to remember: who was here last, the clock's offset, the office's mark. */
export interface Remembered {
  name: string
  value: unknown
}

/** A visit that is being made here; the rooms of the visit know what is in it. */
export interface VisitRow {
  id: string
  treeId: string
  personId: string
  /** Device clock, ms, of the last change. */
  keptAt: number
  /** The last change that the office has; null while it has none. */
  sentAt: number | null
  /** Closed by its person; its closing is on its way. */
  toClose: boolean
  /** Why the office said no. */
  refusals: readonly Refusal[]
}
/** A reading while it is entered and until the office has it. */
export interface ReadingRow {
  id: string
  treeId: string
  visitId: string | null
  personId: string
  keptAt: number
  refusals: readonly Refusal[]
  /** What was handed in; null while it is still being entered. */
  probe: ProbeInput | null
}
/** Borders of a trace: being moved, or accepted and on their way. */
export interface BordersRow {
  probeId: string
  treeId: string
  personId: string
  input: Omit<BordersInput, 'barkCm'> & { barkCm: number | null }
  accepted: boolean
  refusals: readonly Refusal[]
  keptAt: number
}

/** What an entry is about, for the queue and for the person who looks at it. */
export interface About {
  authorId: string
  subjectId: string
  treeId: string | null
  label: string
}

/** An entry as it is first kept; its place in the order is given by the store. */
export const freshEntry = (
  kind: EntryKind,
  body: unknown,
  { authorId, subjectId, treeId, label }: About,
  clockOffsetMs: number | null,
): Omit<KeptEntry, 'seq'> =>
  waitingEntry({
    key: crypto.randomUUID(),
    kind,
    authorId,
    subjectId,
    treeId,
    label,
    madeAt: new Date().toISOString(),
    clockOffsetMs,
    body,
  })
