import { randomUUID } from 'node:crypto'
import { isDeepStrictEqual } from 'node:util'
import type { Session } from '@underbough/db'
import type { Site, siteInput } from '@underbough/model'
import type { z } from 'zod'
import { checkedAreaM2 } from '../geometry/service.ts'
import { conflict } from '../http/conflict.ts'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { raiseMapVersion } from '../tiles/versions.ts'
import { exposureAfterRose } from '../wind/exposure.ts'
import { allSites, insertSite, siteById, siteExists, updateSite } from './queries.ts'

type Input = z.infer<typeof siteInput>
/** A change by a form that does not know of contacts leaves them as they are. */
type Change = Omit<Input, 'contacts'> & Partial<Pick<Input, 'contacts'>> & { version: number }

export const listSites = (deps: Deps, person: Person) => allSites(deps.database.db, person.organisation.id)

/** Refuses a site that the organisation does not have; null is no site. */
export async function checkSite(session: Session, organisationId: string, siteId: string | null) {
  if (siteId && !(await siteExists(session, organisationId, siteId)))
    refuse('unknown', 'siteId', 'There is no such site.')
}

export async function addSite(deps: Deps, person: Person, input: Input): Promise<Site> {
  const id = randomUUID()
  return store(deps, person, id, input, (tx) => insertSite(tx, person.organisation.id, id, input))
}

export async function changeSite(
  deps: Deps,
  person: Person,
  id: string,
  { version, ...input }: Change,
): Promise<Site> {
  let jobId: string | null = null
  const site = await store(deps, person, id, input, async (tx) => {
    const stored = await siteById(tx, person.organisation.id, id)
    if (!stored) refuse('unknown', 'id', 'There is no such site.')
    if (!(await updateSite(tx, person.organisation.id, id, version, input))) conflict(stored)
    if (!isDeepStrictEqual(stored.windRose, input.windRose))
      jobId = await exposureAfterRose(tx, deps, person, id)
  })
  if (jobId) await deps.jobs.queue(person.organisation.id, jobId)
  return site
}

async function store(
  deps: Deps,
  person: Person,
  id: string,
  input: Omit<Input, 'contacts'>,
  write: (tx: Session) => Promise<void>,
): Promise<Site> {
  checkRose(input.windRose)
  checkTimeZone(input.timeZone)
  return deps.database.transaction(async (tx) => {
    await checkedAreaM2(tx, input.outline, 'outline')
    await write(tx)
    // A site's time zone decides on which day its trees are overdue.
    await raiseMapVersion(tx, person.organisation.id, 'trees')
    return (await siteById(tx, person.organisation.id, id))!
  })
}

function checkRose(rose: number[] | null) {
  const sum = rose?.reduce((a, b) => a + b, 0) ?? 1
  if (Math.abs(sum - 1) > 1e-6)
    refuse('out-of-range', 'windRose', `The shares of the wind rose add up to ${sum}, not to 1.`, {
      limit: 'sum of 1',
    })
}

function checkTimeZone(timeZone: string | null) {
  try {
    new Intl.DateTimeFormat('en', { timeZone: timeZone ?? 'UTC' })
  } catch {
    refuse(
      'unknown',
      'timeZone',
      `No time zone is named “${timeZone}”. A name looks like Atlantic/St_Helena.`,
    )
  }
}
