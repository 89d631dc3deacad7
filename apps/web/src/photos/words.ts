import { count } from '../look/index.ts'
import type { PhotoStanding, ShownPhoto } from './shown.ts'

export const standingWords: Record<PhotoStanding, string> = {
  'on-this-phone': 'On this phone',
  'at-the-office': 'At the office',
  refused: 'Refused by the office; it stays on this phone',
}

export const glyphOf = (standing: PhotoStanding) =>
  standing === 'at-the-office' ? 'in-the-office' : standing === 'refused' ? 'not-kept' : 'on-this-phone'

/** `3 photos: 2 on this phone, 1 at the office`. */
export function sayStandings(photos: readonly ShownPhoto[]): string {
  const parts = (['refused', 'on-this-phone', 'at-the-office'] as const).flatMap((standing) => {
    const n = photos.filter((one) => one.standing === standing).length
    const words = standing === 'refused' ? 'refused by the office' : standingWords[standing].toLowerCase()
    return n > 0 ? [{ n, words }] : []
  })
  const said = parts.length === 1 ? parts[0]!.words : parts.map(({ n, words }) => `${n} ${words}`).join(', ')
  return `${count(photos.length, 'photo')}, ${said}`
}

/** What a photo shows, and whether it is a copy with marks. */
export const sayPhoto = ({ photo }: ShownPhoto, of: string): string =>
  `${photo.caption || of}${photo.copyKind === 'marked' ? ', with marks' : ''}`
