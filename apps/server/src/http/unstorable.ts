import { type Refusal, refusal } from '@underbough/model'

/** Texts that no database keeps as they are: with a zero byte or half a character. */
export function unstorable(value: unknown, path: string[] = []): Refusal[] {
  if (typeof value === 'string')
    return /[\0\p{Surrogate}]/u.test(value)
      ? [
          refusal('file-not-text', path.join('.'), {
            message: 'This holds bytes that are no text. Save it as plain text and enter it again.',
          }),
        ]
      : []
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, inner]) => unstorable(inner, [...path, key]))
}
