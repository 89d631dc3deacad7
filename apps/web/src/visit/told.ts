import { type UrgentNoteInput, urgentNoteInput } from '@underbough/model'

/** Somebody who was told, how, and when. */
export interface Told {
  whom: string
  how: string
  at: string
}
/** An urgent note while it is written; kept with the draft, so that a call in the middle of it loses nothing. */
export interface UrgentBegun {
  id: string
  /** Null until it was asked. */
  keptOut: boolean | null
  told: Told[]
  interimClosure: string
}

const MOST_WHOM = 200
const MOST_HOW = 120

export const nobodyTold = (at: string): Told => ({ whom: '', how: '', at })
export const newUrgent = (id: string, now: string): UrgentBegun => ({
  id,
  keptOut: null,
  told: [nobodyTold(now)],
  interimClosure: '',
})

const isSaid = ({ whom, how }: Told) => whom.trim() !== '' || how.trim() !== ''
const clock = (instant: string) => {
  const at = new Date(instant)
  return `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`
}

/** Puts several people into the one line of the record: each with how and when, in the order they were told. */
export function noteOf(begun: UrgentBegun, treeId: string, visitId: string): UrgentNoteInput {
  const told = begun.told.filter(isSaid).sort((a, b) => Date.parse(a.at) - Date.parse(b.at))
  const [first] = told
  return {
    id: begun.id,
    treeId,
    visitId,
    keptOut: begun.keptOut === true,
    toldWhom:
      told.length === 1
        ? first!.whom.trim()
        : told.map(({ whom, how, at }) => `${whom.trim()} (${how.trim()}, ${clock(at)})`).join('; '),
    toldHow: [...new Set(told.map(({ how }) => how.trim()))].join(', '),
    toldAt: first?.at ?? new Date(0).toISOString(),
    interimClosure: begun.interimClosure.trim(),
  }
}

/** What is still to be said before the note can go, in the order of the screen. */
export function stillToSay(begun: UrgentBegun): string[] {
  const told = begun.told.filter(isSaid)
  const note = noteOf(begun, '', '')
  return [
    begun.keptOut === null ? 'whether people are kept out' : null,
    told.length === 0 || told.some(({ whom }) => !whom.trim()) ? 'who was told' : null,
    told.some(({ how }) => !how.trim()) || told.length === 0 ? 'how' : null,
    note.toldWhom.length > MOST_WHOM || note.toldHow.length > MOST_HOW
      ? 'the same in fewer words: who was told fits 200 letters'
      : null,
    urgentNoteInput.shape.interimClosure.safeParse(note.interimClosure).success
      ? null
      : 'the closure in fewer words',
  ].filter((words) => words !== null)
}

/** `tel:` address of a number as people write it (RFC 3966: digits, and a plus before a country's code). */
export const telephoneAddress = (written: string) =>
  `tel:${written.trim().startsWith('+') ? '+' : ''}${written.replace(/\D/g, '')}`
