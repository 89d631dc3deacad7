import { type Refusal, refusal } from '@underbough/model'

/** What the database would not take of the input, as a refusal; null where the failure is the program's own. Codes: PostgreSQL, appendix A. */
export function refusalOfDatabase(error: unknown): Refusal | null {
  const code = stateOf(error)
  if (code === '23505')
    return refusal('conflict', 'id', {
      message: 'Another record bears one of these identifiers. Nothing was written.',
    })
  if (code === '23503')
    return refusal('unknown', '', {
      message: 'Something that this names does not exist here. Nothing was written.',
    })
  // Class 22 is the data themselves: a number too large for its column, a day that no calendar has, bytes that are no text.
  if (code?.startsWith('22'))
    return refusal('malformed', '', { message: 'A value cannot be stored as it is. Nothing was written.' })
  return null
}

/** The SQLSTATE of an error or of what caused it. */
function stateOf(error: unknown): string | null {
  for (let at = error; at instanceof Error; at = at.cause)
    if ('code' in at && typeof at.code === 'string' && /^[0-9A-Z]{5}$/.test(at.code)) return at.code
  return null
}
