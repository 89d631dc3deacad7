import { createRoute, z } from '@hono/zod-openapi'
import {
  due,
  failureInput,
  occupancyWords,
  photo,
  rating,
  riskWords,
  tree,
  treeInput,
  urgentNote,
  visit,
  work,
} from '@underbough/model'
import { dueBasisOf } from '../due/queries.ts'
import { exposureView } from '../exposure/service.ts'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, body, idParam, subject } from '../http/subject.ts'
import { photosOf } from '../photos/queries.ts'
import { eventsOfTree, failuresOfTree, walkOversOfTree } from '../records/queries.ts'
import { narrowingQuery } from '../tiles/narrowing.ts'
import { daysOf } from '../tiles/service.ts'
import { openNotesOfTree } from '../urgent-notes/queries.ts'
import { ratingsOfTree, visitsOfTree } from '../visits/queries.ts'
import { worksOfTree } from '../works/queries.ts'
import { treeLine, withLateness } from './line.ts'
import { dueById, findTrees, treeById } from './queries.ts'
import { addTree, changeTree } from './service.ts'
import { closerView, underView } from './under.ts'

const list = (text: string | undefined) => text?.split(',').filter(Boolean)
const filter = narrowingQuery.extend({
  q: z.string().max(100).optional(),
  ids: z.string().max(20_000).optional(),
  limit: z.coerce.number().int().min(1).max(2000).default(50),
  offset: z.coerce.number().int().min(0).default(0),
})

const record = z
  .object({
    tree,
    due: due.nullable(),
    dueParts: z.array(z.object({ rule: z.string(), words: z.string() })),
    risk: z.enum(riskWords).nullable(),
    seen: z.boolean(),
    ratingOpen: z.boolean(),
    overdueDays: z.int(),
    rating: rating.nullable(),
    ratings: z.array(rating),
    visits: z.array(visit),
    works: z.array(work),
    urgentNotes: z.array(urgentNote),
    failures: z.array(failureInput),
    photos: z.array(photo),
    events: z.array(
      z.object({ id: z.uuid(), kind: z.string(), on: z.string(), lookWithinDays: z.int(), note: z.string() }),
    ),
    walkOvers: z.array(
      z.object({
        id: z.uuid(),
        on: z.string(),
        zoneId: z.uuid(),
        zoneName: z.string(),
        personName: z.string(),
        note: z.string(),
      }),
    ),
    dueBasis: z
      .object({
        enteredOn: z.string(),
        zoneUse: z.enum(occupancyWords).nullable(),
        baselineShare: z.number().nullable(),
      })
      .describe('what a date follows from besides the records here, so that a device can reckon it too'),
  })
  .openapi('TreeRecord')

export const trees = (deps: Deps) => {
  const { db } = deps.database
  return subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/trees',
        tags: ['trees'],
        summary: 'Find trees',
        request: { query: filter },
        responses: answers(z.object({ trees: z.array(treeLine), total: z.int() })),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { q, ids, limit, offset, ...narrowing } = c.req.valid('query')
        const days = await daysOf(deps, organisation)
        const found = await findTrees(db, organisation.id, {
          q,
          ids: list(ids),
          narrowing,
          days,
          limit,
          offset,
        })
        return c.json(
          { trees: found.trees.map(withLateness(organisation, deps.now())), total: found.total },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/trees/{id}',
        tags: ['trees'],
        summary: 'One tree with all it ever had',
        request: idParam,
        responses: answers(record),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { id } = c.req.valid('param')
        const found =
          (await treeById(db, organisation.id, id)) ?? refuse('unknown', 'id', 'There is no such tree.')
        const { trees: lines } = await findTrees(db, organisation.id, { ids: [id], limit: 1, offset: 0 })
        const line = withLateness(organisation, deps.now())(lines[0]!)
        const state = await dueById(db, organisation.id, id)
        const ratings = await ratingsOfTree(db, organisation.id, id)
        return c.json(
          {
            tree: found,
            due: line.due,
            dueParts: (state?.dueParts ?? []) as { rule: string; words: string }[],
            risk: line.risk,
            seen: line.seen,
            ratingOpen: line.ratingOpen,
            overdueDays: line.overdueDays,
            rating: ratings[0] ?? null,
            ratings,
            visits: await visitsOfTree(db, organisation.id, id),
            works: await worksOfTree(db, organisation.id, id),
            urgentNotes: await openNotesOfTree(db, organisation.id, id),
            failures: await failuresOfTree(db, organisation.id, id),
            photos: await photosOf(db, organisation.id, id),
            events: await eventsOfTree(db, organisation.id, id),
            walkOvers: await walkOversOfTree(db, organisation.id, id),
            dueBasis: await dueBasisOf(db, organisation.id, id),
          },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/trees/{id}/exposure',
        tags: ['trees'],
        summary: 'Who is under it, if it fails',
        request: idParam,
        responses: answers(z.object({ exposure: z.any().nullable(), under: z.any().nullable() })),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { id } = c.req.valid('param')
        const found =
          (await treeById(db, organisation.id, id)) ?? refuse('unknown', 'id', 'There is no such tree.')
        const [rating] = await ratingsOfTree(db, organisation.id, id)
        return c.json(
          {
            exposure: await exposureView(db, organisation.id, id, found.position),
            under: await underView(db, organisation.id, found, rating ?? null),
          },
          200,
        )
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/trees/{id}/exposure/closer',
        tags: ['trees'],
        summary: 'What moves those figures, and how much the accuracy of its place changes them',
        request: idParam,
        responses: answers(z.object({ closer: z.any().nullable() })),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const { id } = c.req.valid('param')
        const found =
          (await treeById(db, organisation.id, id)) ?? refuse('unknown', 'id', 'There is no such tree.')
        return c.json({ closer: await closerView(db, organisation.id, found) }, 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/trees',
        tags: ['trees'],
        summary: 'Add a tree',
        request: body(treeInput),
        responses: answers(tree),
      }),
      async (c) =>
        c.json(await addTree(deps, allow(c, 'officer', 'inspector', 'manager'), c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/trees/{id}',
        tags: ['trees'],
        summary: 'Change a tree',
        request: { ...idParam, ...body(treeInput.extend({ version: z.int() })) },
        responses: answers(tree),
      }),
      async (c) => {
        const { version, ...input } = c.req.valid('json')
        return c.json(
          await changeTree(
            deps,
            allow(c, 'officer', 'inspector', 'manager'),
            c.req.valid('param').id,
            version,
            input,
          ),
          200,
        )
      },
    )
}
