import { z } from '@hono/zod-openapi'
import { today as civilToday, crew } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { crewsById, detourFactor, nextSheetDate, sheetsOfDay, stopsOf } from '../plans/queries.ts'
import { sheetView, sheetViews } from '../plans/service.ts'
import { defaultDetour } from './reckon.ts'

const crewName = crew.pick({ id: true, name: true, letter: true, level: true })
/** A crew's day with all that a phone needs to reckon it again without signal. */
export const dayView = z.object({
  date: z.string(),
  crew: crew
    .pick({
      id: true,
      name: true,
      letter: true,
      level: true,
      start: true,
      end: true,
      hours: true,
      breakMinutes: true,
    })
    .nullable(),
  daySheet: sheetView.nullable(),
  nextDate: z.string().nullable(),
  otherCrews: z.array(crewName).describe('whom open stops can be handed to'),
  detourFactor: z.number().describe('way on the ground over straight line'),
})

/** The issued day of the person's own crew, or of the crew that is named. Refused (`forbidden`) where a client names one. */
export async function dayOf(deps: Deps, person: Person, asked: { date?: string; crew?: string }) {
  const { db } = deps.database
  const { organisation, personId, role } = person
  const { date = civilToday(organisation.timeZone, deps.now()), crew: named } = asked
  if (named && role === 'client') refuse('forbidden')
  const all = await crewsById(db, organisation.id, null)
  const mine = all.filter((one) => (named ? one.id === named : one.memberIds.includes(personId)))
  const ids = mine.map((one) => one.id)
  const sheets = await sheetsOfDay(db, organisation.id, ids, date)
  const stops = await stopsOf(
    db,
    organisation.id,
    sheets.map((s) => s.id),
  )
  const [daySheet = null] = await sheetViews(deps, person, sheets, stops)
  const shown = mine.find((one) => one.id === daySheet?.crewId) ?? mine[0] ?? null
  return {
    date,
    crew: shown,
    daySheet,
    nextDate: daySheet ? null : await nextSheetDate(db, organisation.id, ids, date),
    otherCrews:
      role === 'client'
        ? []
        : all
            .filter((one) => one.id !== shown?.id)
            .map(({ id, name, letter, level }) => ({ id, name, letter, level })),
    detourFactor: (await detourFactor(db, organisation.id)) ?? defaultDetour,
  }
}
