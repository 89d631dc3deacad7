import { z } from '@hono/zod-openapi'
import { addDays, mondayOf, riskWords, treeStatuses, zoneKinds } from '@underbough/model'

const words = <const T extends readonly string[]>(of: T) =>
  z
    .string()
    .max(200)
    .transform((text) => text.split(','))
    .pipe(z.array(z.enum(of as unknown as [T[number], ...T[number][]])).min(1))
const yesOrNo = z.enum(['true', 'false']).transform((word) => word === 'true')
const stemCm = z.coerce.number().min(0).max(2000)

/** What narrows a view of trees, as an address says it. Every part narrows; an absent part does not. Lists are parted by commas. */
export const narrowingQuery = z.object({
  risk: words([...riskWords, 'unrated'])
    .optional()
    .describe('low, moderate, high, extreme or unrated'),
  overdue: yesOrNo.optional(),
  seen: yesOrNo.optional().describe('whether anybody has closed a look at it'),
  dueFrom: z.iso.date().optional(),
  dueUntil: z.iso.date().optional().describe('the last day'),
  names: z.string().trim().min(1).max(100).optional().describe('part of the species or the common name'),
  siteId: z.uuid().optional(),
  status: words(treeStatuses).optional(),
  stemFromCm: stemCm.optional(),
  stemUntilCm: stemCm.optional(),
  over: words(zoneKinds).optional().describe('kinds of target zone within its reach'),
})
export type Narrowing = z.output<typeof narrowingQuery>

/** The same narrowing is the same text, however its address was written: part of a tile's name. */
export function canonical(narrowing: Narrowing): string {
  const parts = Object.entries(narrowing)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => [name, Array.isArray(value) ? [...new Set(value)].sort() : value] as const)
    .sort(([a], [b]) => (a < b ? -1 : 1))
  return parts.length === 0 ? '' : JSON.stringify(parts)
}

export const isOpen = (narrowing: Narrowing): boolean => canonical(narrowing) === ''

/** Whether the counts of coarse cells, which know risk, looks and weeks, can answer it. */
export function countsKnow({ risk, overdue, seen, dueFrom, dueUntil, ...others }: Narrowing): boolean {
  return (
    isOpen(others) &&
    (!dueFrom || mondayOf(dueFrom) === dueFrom) &&
    (!dueUntil || mondayOf(addDays(dueUntil, 1)) === addDays(dueUntil, 1))
  )
}
