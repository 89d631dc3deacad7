import type { Refusal } from '@underbough/model'
import { type Keeping, KeepingGlyph, keepingNames } from '@underbough/pictures'
import { type ReactNode, useEffect, useState } from 'react'

export type Tone = 'kept' | 'mind' | 'refused'
/** A bar with words: kept (it is done), mind (know this), refused (it was not done). Says itself to a screen reader. */
export function Notice({ tone, title, children }: { tone: Tone; title?: ReactNode; children?: ReactNode }) {
  return (
    <div className={`notice notice-${tone}`} role={tone === 'refused' ? 'alert' : 'status'}>
      {title ? <b>{title}</b> : null}
      {title && children ? ' ' : null}
      {children}
    </div>
  )
}

/** What was not done and why: one line for each refusal. `kept` says what stands as it was. */
export function Refusals({
  title,
  refusals,
  kept,
}: {
  title: string
  refusals: readonly Refusal[]
  kept?: string
}) {
  if (refusals.length === 0) return null
  return (
    <Notice tone="refused" title={title}>
      <ul>
        {refusals.map((r) => (
          <li key={`${r.code}-${r.path}-${r.message}`}>{r.message}</li>
        ))}
      </ul>
      {kept}
    </Notice>
  )
}

/** A place with nothing in it yet: the frame stays, one sentence says what goes there, one action fills it. */
export function Empty({
  title,
  children,
  action,
}: {
  title: string
  children?: ReactNode
  action?: ReactNode
}) {
  return (
    <div className="empty">
      <p>
        <b>{title}</b> {children}
      </p>
      {action}
    </div>
  )
}

/** Says what is being fetched, and says nothing within the first second. Nothing shimmers. */
export function Loading({ children = 'Fetching.' }: { children?: ReactNode }) {
  const [late, setLate] = useState(false)
  useEffect(() => {
    const timer = setTimeout(() => setLate(true), 900)
    return () => clearTimeout(timer)
  }, [])
  return (
    <p className="loading q" role="status">
      {late ? children : null}
    </p>
  )
}

/** Something could not be fetched: what happened, what was kept, what to do. */
export function ErrorNote({ error, title, action }: { error: unknown; title: string; action?: ReactNode }) {
  const words = error instanceof Error ? error.message : ''
  return (
    <div className="error-note">
      <Notice tone="refused" title={title}>
        {words}
      </Notice>
      {action ? <div className="row c error-actions">{action}</div> : null}
    </div>
  )
}

/** Where an entry is, glyph and words: not kept, on this phone, in the office. */
export function KeepingState({ keeping, children }: { keeping: Keeping; children?: ReactNode }) {
  return (
    <span className={`keeping keeping-${keeping}`}>
      <KeepingGlyph keeping={keeping} hidden />
      {children ?? keepingNames[keeping]}
    </span>
  )
}

/** Stands on every rating, report and section figure. */
export const standingSentence =
  'This supports a qualified person’s judgement, follows local law and codes, and does not replace them. Work at height, near power lines or with saws is for licensed crews.'
export function Standing({ small }: { small?: boolean }) {
  return <p className={small ? 'standing-small' : 'standing'}>{standingSentence}</p>
}
