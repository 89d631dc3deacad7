import { useCallback, useState } from 'react'
import type { Tone } from '../look/States.tsx'
import { keepPhoto, NotKept, type PhotoAbout, type PhotoOwner } from './keep.ts'

export interface News {
  tone: Tone
  title: string
  words: string
}
/** Taking photos for one owner: what is on its way onto the device, and what came of the last ones. */
export interface Taking {
  take(files: readonly File[]): Promise<void>
  /** Photos being put onto the device now. */
  busy: number
  news: News | null
}

/** Keeps chosen files one after the other; one that cannot be kept is said aloud and does not hold up the rest. */
export function useTaking(owner: PhotoOwner, caption: string, about: PhotoAbout): Taking {
  const [busy, setBusy] = useState(0)
  const [news, setNews] = useState<News | null>(null)
  const { ownerKind, ownerId } = owner
  const { authorId, treeId, label } = about
  const take = useCallback(
    async (files: readonly File[]) => {
      setNews(null)
      setBusy((n) => n + files.length)
      const outcome: Outcome = { kept: 0, uncopied: 0, lost: [] }
      for (const file of files) {
        try {
          const { copied } = await keepPhoto(file, { ownerKind, ownerId }, caption, {
            authorId,
            treeId,
            label,
          })
          outcome.kept += 1
          if (!copied) outcome.uncopied += 1
        } catch (error) {
          outcome.lost.push(
            error instanceof NotKept ? error.message : 'The photo could not be read. Nothing was kept of it.',
          )
        } finally {
          setBusy((n) => n - 1)
        }
      }
      setNews(newsOf(outcome))
    },
    [ownerKind, ownerId, caption, authorId, treeId, label],
  )
  return { take, busy, news }
}

interface Outcome {
  kept: number
  uncopied: number
  lost: string[]
}
const photosSay = (n: number) => (n === 1 ? 'Photo' : `${n} photos`)

/** What came of it, the worst first. */
export function newsOf({ kept, uncopied, lost }: Outcome): News | null {
  if (lost.length > 0)
    return {
      tone: 'refused',
      title: `${photosSay(lost.length)} not kept.`,
      words: `${[...new Set(lost)].join(' ')}${kept > 0 ? ` ${photosSay(kept)} kept on this phone.` : ''}`,
    }
  if (uncopied > 0)
    return {
      tone: 'mind',
      title: `${photosSay(kept)} kept on this phone.`,
      words:
        'This browser cannot draw a picture of this kind, so the original stands without a smaller copy.',
    }
  return kept > 0 ? { tone: 'kept', title: `${photosSay(kept)} kept on this phone.`, words: '' } : null
}
