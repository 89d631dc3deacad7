import { type CivilDate, daysBetween } from '@underbough/model'
import { sayDate } from '../look/index.ts'

interface Holder {
  qualification: string | null
  qualificationExpiresOn?: CivilDate | null
}
/** So long before its end a qualification is spoken of, days (Assumption: time enough to renew it). */
const SOON_DAYS = 60

/** How a person stands on that day: `minds` where it must be said before a visit begins. */
export function sayQualification(who: Holder, on: CivilDate): { words: string; minds: boolean } {
  const { qualification, qualificationExpiresOn: until = null } = who
  if (!qualification) return { words: 'No qualification is on record for you.', minds: true }
  if (until === null) return { words: `Your qualification: ${qualification}.`, minds: false }
  const left = daysBetween(on, until)
  if (left < 0)
    return {
      words: `Your qualification has expired: ${qualification}, until ${sayDate(until)}.`,
      minds: true,
    }
  const words = `Your qualification: ${qualification}, until ${sayDate(until)}.`
  return { words: left <= SOON_DAYS ? `${words} It expires soon.` : words, minds: left <= SOON_DAYS }
}
