import type { Refusal } from '@underbough/model'
import type { Keeping } from '@underbough/pictures'
import { useCallback, useEffect, useRef, useState } from 'react'
import { device, refusalOfKeeping, useLive, useStanding } from '../keep/index.ts'
import type { Closed, OfficeAnswer } from './closing.ts'
import { type Draft, visitOf } from './draft.ts'
import { closeHere, enterDraft, enterUrgent, type KeptVisit, keepVisit, visitHere } from './store.ts'

/** Time after the last change before a draft is entered for the office. */
const QUIET_MS = 1500

export interface VisitHandle {
  draft: Draft
  kept: KeptVisit
  /** Changes the draft and keeps it on this device at once. */
  change(make: (draft: Draft) => Draft): void
  /** Closes the visit on this device; it goes to the office by itself. */
  close(): Promise<void>
  /** Enters the urgent note ahead of everything else. */
  tellUrgent(): Promise<void>
  /** The office has the urgent note. */
  urgentSent: boolean
  closing: boolean
  closed: Closed | null
  /** Why the office said no, to the draft or to the closing. */
  refusals: readonly Refusal[]
  /** Why the last change is not on this device; null while all is. */
  unkept: Refusal | null
  keeping: Keeping
}

/**
 * A visit while it is made. Every change is kept on the device at once and entered for the office after a short quiet; closing it is one
 * write. Sending is not its business.
 */
export function useVisit(initial: KeptVisit): VisitHandle {
  const [kept, setKept] = useState(initial)
  const [unkept, setUnkept] = useState<Refusal | null>(null)
  const [closing, setClosing] = useState(false)
  const now = useRef(initial)
  const answer = useOfficeAnswer(initial.id)
  const stored = useLive(initial.id, () => visitHere(initial.id), undefined)
  const urgentSent = useStanding(kept.draft.urgentNote?.id ?? '') === 'at-the-office'

  const hold = useCallback(async (next: KeptVisit, write: () => Promise<void>): Promise<boolean> => {
    now.current = next
    setKept(next)
    try {
      await write()
      setUnkept(null)
      return true
    } catch (error) {
      setUnkept(refusalOfKeeping(error, 'the last change'))
      return false
    }
  }, [])
  const { later, forget, pending } = useEntering(now, setUnkept)
  const standing = useStanding(initial.id)

  // The office refused the closing: the visit is a draft again. A row older than the last press is not about it.
  useEffect(() => {
    if (!stored || stored.toClose || !now.current.toClose || stored.keptAt < now.current.keptAt) return
    now.current = { ...now.current, toClose: false, refusals: stored.refusals }
    setKept(now.current)
  }, [stored])

  const change = useCallback(
    (make: (draft: Draft) => Draft) => {
      const { draft, toClose } = now.current
      const made = make(draft)
      if (toClose || made === draft) return
      const next = { ...now.current, draft: made, keptAt: Date.now() }
      void hold(next, () => keepVisit(next))
      later()
    },
    [hold, later],
  )

  const close = async () => {
    if (now.current.toClose) return
    setClosing(true)
    forget()
    const open = now.current
    const draft = { ...open.draft, endedAt: new Date().toISOString() }
    const next: KeptVisit = { ...open, draft, keptAt: Date.now(), toClose: true, refusals: [] }
    // What could not be written is not closed: the screen stays, and says so.
    if (!(await hold(next, () => closeHere(next)))) {
      now.current = open
      setKept(open)
    }
    setClosing(false)
  }
  const tellUrgent = async () => {
    await hold(now.current, () => enterUrgent(now.current))
  }
  return {
    draft: kept.draft,
    kept: { ...kept, sentAt: stored?.sentAt ?? kept.sentAt },
    change,
    close,
    tellUrgent,
    urgentSent,
    closing,
    closed: kept.toClose && !closing ? { answer } : null,
    refusals: stored?.refusals ?? kept.refusals,
    unkept,
    keeping: unkept
      ? 'not-kept'
      : standing === 'at-the-office' && !pending
        ? 'in-the-office'
        : 'on-this-phone',
  }
}

/** What the office answered to the closing of a visit; null until it has. */
const useOfficeAnswer = (visitId: string): OfficeAnswer | null =>
  useLive<OfficeAnswer | null>(
    `closing ${visitId}`,
    async () => {
      const entries = await device.entries.where({ subjectId: visitId }).toArray()
      const closing = entries.find(({ kind, state }) => kind === 'closing' && state === 'sent')
      return (closing?.answer as OfficeAnswer | undefined) ?? null
    },
    null,
  )

/** Enters the draft after a quiet, and what is left of it when the page goes. Seconds alone are not worth a message. */
function useEntering(now: { readonly current: KeptVisit }, onFault: (refusal: Refusal) => void) {
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null)
  const entered = useRef<string | null>(null)
  const [pending, setPending] = useState(false)
  const [entering] = useState(() => {
    const forget = () => {
      if (timer.current) clearTimeout(timer.current)
      timer.current = null
      setPending(false)
    }
    const enter = () => {
      forget()
      const visit = now.current
      if (visit.toClose) return
      entered.current = wordsOf(visit.draft)
      enterDraft(visit).catch((error) => {
        entered.current = null
        onFault(refusalOfKeeping(error, 'the last change'))
      })
    }
    const later = () => {
      if (wordsOf(now.current.draft) === entered.current) return
      forget()
      setPending(true)
      timer.current = setTimeout(enter, QUIET_MS)
    }
    return { forget, enter, later }
  })
  useEffect(() => {
    const leaving = () => document.visibilityState === 'hidden' && timer.current && entering.enter()
    document.addEventListener('visibilitychange', leaving)
    return () => {
      document.removeEventListener('visibilitychange', leaving)
      if (timer.current) entering.enter()
    }
  }, [entering])
  return { ...entering, pending }
}
const wordsOf = (draft: Draft): string => {
  const visit = visitOf(draft)
  return JSON.stringify({ ...visit, steps: visit.steps.map((step) => ({ ...step, seconds: 0 })) })
}
