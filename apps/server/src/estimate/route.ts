import { createRoute, z } from '@hono/zod-openapi'
import { failureWords, position, scenarioParts, zoneKinds } from '@underbough/model'
import { failureBandsSchema, startingBands } from '@underbough/rating'
import type { Deps } from '../http/context.ts'
import { problemSchema } from '../http/problem.ts'
import { allow, answers, body, idParam, subject } from '../http/subject.ts'
import { treeLine } from '../trees/line.ts'
import { checkAgainstRecord, decide, decidedInput, pastDecisions, standing } from './decision.ts'
import { expectedOfTree, expectedZones, namedUsers } from './service.ts'

const tags = ['estimate']
const span = z
  .object({ least: z.number(), middle: z.number(), most: z.number() })
  .describe('people within an outline, expected per year: a range for ranking, not a chance')
const ends = z.object({ least: z.number(), most: z.number() })
const agreement = z
  .object({
    predicted: span.describe('failures the bands predict over the years on record'),
    failures: z.int(),
    treeYears: z.number(),
    interval: ends.describe('exact 95 % interval of the number behind the recorded failures'),
    refusal: problemSchema.shape.refusals.element.nullable(),
  })
  .openapi('EstimateAgreement')
const decision = z
  .object({
    number: z.int(),
    on: z.boolean(),
    text: z.string(),
    madeBy: z.string(),
    madeAt: z.string(),
    decided: decidedInput.nullable(),
    agreement: agreement.nullable(),
  })
  .openapi('EstimateDecision')
const verdict = z.enum(['above-both', 'between', 'below-both', 'undecided'])
const user = z
  .object({
    who: z.string(),
    zoneId: z.uuid(),
    zoneName: z.string(),
    hoursPerYear: z.number(),
    perYear: ends
      .extend({ middle: z.number() })
      .describe('yearly chance that this one person is killed there'),
    verdict,
    trees: z.int(),
  })
  .openapi('NamedUser')
const state = z
  .object({
    on: z.boolean(),
    decisions: z.array(decision).describe('the newest first; none is ever changed'),
    agreement: agreement
      .nullable()
      .describe('of the bands in use with the failures on record now; null while off'),
    startingBands: failureBandsSchema,
    users: z.array(user).describe('the most exposed first'),
  })
  .openapi('EstimateState')
const people = z.object({ mean: z.number(), least: z.number(), most: z.number() })
const ofTree = z
  .object({
    on: z.boolean(),
    tree: z
      .object({
        decidedOn: z.string(),
        bandsEdition: z.string(),
        perYear: span,
        anyFails: ends.describe('chance in a year that any of its scenarios comes about'),
        scenarios: z.array(
          z.object({
            part: z.enum(scenarioParts),
            description: z.string(),
            failure: z.enum(failureWords),
            timeFrameYears: z.number(),
            yearly: span.describe('chance of failure in one year'),
            perYear: span,
            zones: z.array(
              z.object({ id: z.uuid(), name: z.string(), kind: z.enum(zoneKinds), people, perYear: span }),
            ),
          }),
        ),
        movers: z.array(
          z.object({
            input: z.enum(['band', 'word', 'direction', 'people', 'time-frame']),
            least: z.number(),
            most: z.number(),
            times: z.number().nullable(),
          }),
        ),
        workedOnSince: z.boolean(),
        mostExposed: user.nullable(),
      })
      .nullable()
      .describe('null while off, and for a tree without a rating'),
  })
  .openapi('TreeEstimate')
const zones = z
  .object({
    on: z.boolean(),
    zones: z.array(
      z.object({
        zone: z.object({ id: z.uuid(), name: z.string(), kind: z.enum(zoneKinds), place: position }),
        perYear: span,
        trees: z.int(),
        worst: z.array(z.object({ tree: treeLine, perYear: span })),
        rank: z.int(),
      }),
    ),
    total: span
      .extend({
        rated: z.int(),
        unrated: z.int().describe('trees that stand without a rating: not in the figures'),
      })
      .nullable(),
    waiting: z.int().describe('scenarios that a job is still working out'),
  })
  .openapi('EstimateZones')

/** What is expected per year: off until the organisation has decided in writing, and held back where its failures disagree. */
export const estimate = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/estimate',
        tags,
        summary: 'Whether the estimate is on, and who decided so',
        responses: answers(state),
      }),
      async (c) => {
        const person = c.get('person')
        const { on, decision: newest, agreement: now } = await standing(deps, person)
        return c.json(
          {
            on,
            decisions: await pastDecisions(deps, person.organisation.id),
            agreement: now,
            startingBands,
            users: on ? await namedUsers(deps, person.organisation.id, newest!.decided!) : [],
          },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/estimate/check',
        tags,
        summary: 'Hold bands against the failures on record; nothing is stored',
        request: body(z.object({ bands: failureBandsSchema, since: z.iso.date().nullable() })),
        responses: answers(
          z.object({
            since: z.string(),
            agreement,
            record: z.object({
              atRisk: z.array(
                z.object({ failure: z.enum(failureWords), timeFrameYears: z.number(), years: z.number() }),
              ),
              treeYears: z.number(),
              failures: z.int(),
              allFailures: z.int(),
            }),
          }),
        ),
      }),
      async (c) => {
        const { bands, since } = c.req.valid('json')
        return c.json(await checkAgainstRecord(deps, allow(c, 'manager', 'officer'), bands, since), 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/estimate/decisions',
        tags,
        summary: 'Decide in writing to switch it on or off',
        request: body(
          z.object({
            number: z.int().min(1).describe('one more than the newest decision that was read'),
            on: z.boolean(),
            text: z.string().trim().min(20).max(4000).describe('the decision in words, and its reasons'),
            decided: decidedInput.nullable().describe('asked for when it is switched on'),
          }),
        ),
        responses: answers(z.object({ decisions: z.array(decision) })),
      }),
      async (c) => c.json({ decisions: await decide(deps, allow(c, 'manager'), c.req.valid('json')) }, 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/estimate/zones',
        tags,
        summary: 'Zones by people expected within an outline per year',
        request: {
          query: z.object({
            siteId: z.uuid().optional(),
            kind: z.enum(zoneKinds).optional(),
            limit: z.coerce.number().int().min(1).max(500).default(50),
          }),
        },
        responses: answers(zones),
      }),
      async (c) => c.json(await expectedZones(deps, c.get('person'), c.req.valid('query')), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/trees/{id}/estimate',
        tags,
        summary: 'One tree’s part in it, and what moves the answer most',
        request: idParam,
        responses: answers(ofTree),
      }),
      async (c) => c.json(await expectedOfTree(deps, c.get('person'), c.req.valid('param').id), 200),
    )
