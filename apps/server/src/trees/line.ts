import { z } from '@hono/zod-openapi'
import { due, type Organisation, position, riskWords, today, treeStatuses } from '@underbough/model'
import { overdueDays } from '../due/service.ts'
import type { TreeLine } from './queries.ts'

/** One line about a tree as the API gives it. */
export const treeLine = z
  .object({
    id: z.uuid(),
    tag: z.string(),
    species: z.string(),
    commonName: z.string().nullable(),
    position,
    status: z.enum(treeStatuses),
    heightM: z.number().nullable(),
    stemDiameterCm: z.number().nullable(),
    siteId: z.uuid().nullable(),
    risk: z.enum(riskWords).nullable(),
    seen: z.boolean(),
    ratingOpen: z.boolean(),
    due: due.nullable(),
    overdueDays: z.int(),
  })
  .openapi('TreeLine')

/** Adds what depends on the day: how late a tree is at the site, today. */
export const withLateness = (organisation: Organisation, now: Date) => {
  const day = today(organisation.timeZone, now)
  return (line: TreeLine) => ({ ...line, overdueDays: overdueDays(line.due, day) })
}
