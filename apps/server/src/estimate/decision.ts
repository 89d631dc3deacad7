import { civilDateSchema, id, today } from '@underbough/model'
import {
  type Agreement,
  agreementWith,
  checkBands,
  type FailureBands,
  failureBandsSchema,
  type OwnRecord,
} from '@underbough/rating'
import { z } from 'zod'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { zoneNames } from './queries.ts'
import {
  countFailures,
  type DecisionRow,
  decisions,
  firstFailureOn,
  insertDecision,
  ownRecord,
} from './record-queries.ts'

const share = z.number().gt(0).max(1)
/** What is decided when the estimate is switched on. */
export const decidedInput = z.object({
  bands: failureBandsSchema,
  vulnerability: z
    .object({ from: share, to: share })
    .describe('chance that somebody within the outline is killed: the organisation’s own figure'),
  users: z
    .array(
      z.object({
        who: z.string().trim().min(1).max(120).describe('a role or a use, no person’s name'),
        zoneId: id,
        hoursPerYear: z.number().gt(0).max(8760),
      }),
    )
    .max(20)
    .describe('people who are at a place more than others; only their figures stand beside published lines'),
  recordsSince: civilDateSchema.describe('the day from which failures are recorded'),
})
export type Decided = z.infer<typeof decidedInput>
type Kept = Decided & { agreement: Agreement }

export interface Decision {
  number: number
  on: boolean
  text: string
  madeBy: string
  madeAt: string
  decided: Decided | null
  /** How the bands stood against the failures on record when it was decided. */
  agreement: Agreement | null
}

function asDecision({ number, switchedOn, text, content, madeBy, madeAt }: DecisionRow): Decision {
  const { agreement, ...decided } = content as Kept
  return {
    number,
    on: switchedOn,
    text,
    madeBy,
    madeAt,
    decided: switchedOn ? decided : null,
    agreement: agreement ?? null,
  }
}

export const pastDecisions = async (deps: Deps, organisationId: string): Promise<Decision[]> =>
  (await decisions(deps.database.db, organisationId)).map(asDecision)

/** The organisation's failures and ratings since a day, and what bands make of them. Nothing is stored. */
export async function checkAgainstRecord(
  deps: Deps,
  { organisation }: Person,
  bands: FailureBands,
  since: string | null,
): Promise<{ since: string; record: OwnRecord; agreement: Agreement }> {
  const faults = checkBands(bands)
  if (faults.length > 0) throw new Refused(faults)
  const day = today(organisation.timeZone, deps.now())
  const from = since ?? (await firstFailureOn(deps.database.db, organisation.id)) ?? day
  if (from > day) refuse('out-of-range', 'recordsSince', 'That day has not come yet.', { value: from })
  const record = await ownRecord(deps.database.db, organisation.id, organisation.timeZone, from, day)
  return { since: from, record, agreement: agreementWith(record, bands) }
}

/** Switches the estimate on or off. On only where the bands agree with the organisation's own failures. */
export async function decide(
  deps: Deps,
  person: Person,
  input: { number: number; on: boolean; text: string; decided: Decided | null },
): Promise<Decision[]> {
  const { organisation } = person
  const content = input.on ? await toKeep(deps, person, input.decided) : {}
  const stored = await insertDecision(deps.database.db, {
    organisationId: organisation.id,
    number: input.number,
    switchedOn: input.on,
    text: input.text,
    content,
    madeBy: person.personId,
    madeAt: deps.now().toISOString(),
  })
  if (!stored) refuse('conflict', 'number', 'Somebody else decided meanwhile. Read that decision first.')
  return pastDecisions(deps, organisation.id)
}

async function toKeep(deps: Deps, person: Person, decided: Decided | null): Promise<Kept> {
  if (!decided) refuse('required', 'decided', 'Say which bands are used, and the rest of what is decided.')
  const { vulnerability, users } = decided
  if (vulnerability.from > vulnerability.to)
    refuse('out-of-range', 'decided.vulnerability.to', 'The upper end lies below the lower one.', {
      value: vulnerability.to,
      limit: `at least ${vulnerability.from}`,
    })
  const known = new Set(
    (
      await zoneNames(
        deps.database.db,
        person.organisation.id,
        users.map((user) => user.zoneId),
      )
    ).map((z) => z.id),
  )
  users.forEach(({ zoneId }, i) => {
    if (!known.has(zoneId)) refuse('unknown', `decided.users.${i}.zoneId`, 'There is no such zone.')
  })
  const { agreement } = await checkAgainstRecord(deps, person, decided.bands, decided.recordsSince)
  if (agreement.refusal) throw new Refused([agreement.refusal])
  return { ...decided, agreement }
}

/** The estimate as it stands: off, on, or held back because new failures disagree with its bands. */
export interface Standing {
  on: boolean
  decision: Decision | null
  /** Null while it is off. */
  agreement: Agreement | null
}

/** The last check of each organisation: made anew when a failure comes in, a decision is made or the day changes. */
const checked = new Map<string, { key: string; agreement: Agreement }>()

export async function standing(deps: Deps, person: Person): Promise<Standing> {
  const { db } = deps.database
  const { id: organisationId, timeZone } = person.organisation
  const [row] = await decisions(db, organisationId, 1)
  const decision = row ? asDecision(row) : null
  if (!decision?.decided) return { on: false, decision, agreement: null }
  const { bands, recordsSince } = decision.decided
  const failures = await countFailures(db, organisationId, recordsSince)
  const key = `${decision.number} ${failures} ${today(timeZone, deps.now())}`
  const last = checked.get(organisationId)
  const agreement =
    last?.key === key
      ? last.agreement
      : (await checkAgainstRecord(deps, person, bands, recordsSince)).agreement
  checked.set(organisationId, { key, agreement })
  return { on: agreement.refusal === null, decision, agreement }
}
