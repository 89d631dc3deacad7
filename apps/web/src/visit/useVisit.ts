import { useQueryClient } from '@tanstack/react-query'
import type { Refusal } from '@underbough/model'
import { useCallback, useEffect, useRef, useState } from 'react'
import { Refused, refusalsOf } from '../api/index.ts'
import { sendReadings } from '../probes/send.ts'
import { metaOf } from '../tree/photo.ts'
import type { Draft } from './draft.ts'
import { holdOpen } from './outbox.ts'
import {
  type Closed,
  clearSent,
  countWaiting,
  isSilence,
  sendClosing,
  sendDraft,
  sendPhotos,
  sendUrgent,
} from './send.ts'
import { dropVisit, type KeptPhoto, type KeptVisit, keepPhoto, keepVisit, photosOfVisit } from './store.ts'

/** Time after the last change before a draft goes to the office. */
const QUIET_MS = 1500

export interface VisitHandle {
  draft: Draft
  kept: KeptVisit
  change(make: (draft: Draft) => Draft): void
  photos: readonly KeptPhoto[]
  addPhoto(
    file: File,
    owner: { ownerKind: 'visit' | 'finding'; ownerId: string },
    caption: string,
  ): Promise<void>
  close(): Promise<void>
  tellUrgent(): Promise<void>
  urgentSent: boolean
  closing: boolean
  closed: Closed | null
  /** Why the office said no, to the draft or to the closing. */
  refusals: readonly Refusal[]
}

/**
 * A visit while it is made. Every change is kept on the device at once and sent to the office after a short quiet; what
 * found no signal goes when there is one again. Long because keeping, sending and closing share one record.
 */
export function useVisit(initial: KeptVisit): VisitHandle {
  const [kept, setKept] = useState(initial)
  const [photos, setPhotos] = useState<KeptPhoto[]>([])
  const [refusals, setRefusals] = useState<readonly Refusal[]>([])
  const [closing, setClosing] = useState(false)
  const [closed, setClosed] = useState<Closed | null>(null)
  const [urgentSent, setUrgentSent] = useState(false)
  const memory = useQueryClient()
  const now = useRef(initial)
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null)
  const sending = useRef(false)
  const over = useRef(false)
  const run = useRef<() => Promise<void>>(async () => {})

  const put = useCallback((next: KeptVisit) => {
    now.current = next
    setKept(next)
    return keepVisit(next)
  }, [])
  const showPhotos = useCallback(async () => setPhotos(await photosOfVisit(initial.id)), [initial.id])

  const finish = useCallback(
    async (answer: Closed) => {
      over.current = true
      setClosed(answer)
      setRefusals([])
      await dropVisit(initial.id)
      await sendPhotos(initial.id)
      await showPhotos()
      await clearSent(initial.id)
      await sendReadings(initial.personId)
      await countWaiting()
      for (const key of ['tree', 'trees', 'due', 'today', 'tiles', 'urgent', 'works', 'records', 'visits'])
        void memory.invalidateQueries({ queryKey: [key] })
    },
    [initial.id, initial.personId, memory, showPhotos],
  )

  const later = useCallback(() => {
    if (timer.current) clearTimeout(timer.current)
    timer.current = setTimeout(() => void run.current(), QUIET_MS)
  }, [])

  const flush = useCallback(async () => {
    if (sending.current || over.current) return
    sending.current = true
    try {
      const at = now.current
      if (at.toClose) {
        await finish(await sendClosing(at.draft))
        return
      }
      if (at.sentAt === null || at.sentAt < at.keptAt) {
        await sendDraft(at.draft)
        await put({ ...now.current, sentAt: at.keptAt })
        setRefusals([])
      }
      await sendPhotos(at.id)
      await showPhotos()
      await sendReadings(at.personId)
    } catch (error) {
      if (!isSilence(error)) {
        setRefusals(refusalsOf(error))
        if (now.current.toClose) await put({ ...now.current, toClose: false })
      }
    } finally {
      sending.current = false
      await countWaiting()
      // Something changed while this was on its way.
      if (!over.current && now.current.sentAt !== null && now.current.sentAt < now.current.keptAt) later()
    }
  }, [finish, put, showPhotos, later])
  run.current = flush

  useEffect(() => {
    const letGo = holdOpen(initial.id)
    void showPhotos()
    void countWaiting()
    const go = () => void flush()
    window.addEventListener('online', go)
    if (initial.toClose) go()
    return () => {
      window.removeEventListener('online', go)
      letGo()
      if (timer.current) clearTimeout(timer.current)
    }
  }, [flush, showPhotos, initial.toClose, initial.id])

  const change = useCallback(
    (make: (draft: Draft) => Draft) => {
      if (over.current || now.current.toClose) return
      void put({ ...now.current, draft: make(now.current.draft), keptAt: Date.now() }).then(() =>
        countWaiting(),
      )
      later()
    },
    [put, later],
  )

  const addPhoto: VisitHandle['addPhoto'] = async (file, owner, caption) => {
    const meta = await metaOf(file, owner, caption)
    await keepPhoto({ id: meta.id, visitId: initial.id, name: file.name, file, meta, ...owner, sentAt: null })
    await showPhotos()
    change((draft) => draft)
  }

  const close = async () => {
    setClosing(true)
    const draft = { ...now.current.draft, endedAt: new Date().toISOString() }
    await put({ ...now.current, draft, keptAt: Date.now(), toClose: true })
    // A draft on its way is waited for: the closing is the last word.
    while (sending.current) await new Promise((resolve) => setTimeout(resolve, 50))
    await flush()
    setClosing(false)
  }

  const tellUrgent = async () => {
    const { urgentNote } = now.current.draft
    if (!urgentNote) return
    try {
      await sendDraft(now.current.draft)
      await sendUrgent(urgentNote)
      setUrgentSent(true)
      void memory.invalidateQueries({ queryKey: ['urgent'] })
    } catch (error) {
      if (error instanceof Refused && !isSilence(error)) setRefusals(error.refusals)
    }
  }

  return {
    draft: kept.draft,
    kept,
    change,
    photos,
    addPhoto,
    close,
    tellUrgent,
    urgentSent,
    closing,
    closed,
    refusals,
  }
}
