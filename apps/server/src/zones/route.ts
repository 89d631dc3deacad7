import { createRoute, z } from '@hono/zod-openapi'
import { riskWords, treeStatuses, zone, zoneInput } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { answers, body, idParam, nothing, only, subject } from '../http/subject.ts'
import { addZone, changeZone, listZones, oneZone, removeZone, zonesAroundTree } from './service.ts'

const treeOver = z
  .object({
    id: z.uuid(),
    tag: z.string(),
    species: z.string(),
    commonName: z.string().nullable(),
    status: z.enum(treeStatuses),
    risk: z.enum(riskWords).nullable(),
    ratingOpen: z.boolean(),
    people: z
      .object({ mean: z.number(), least: z.number(), most: z.number() })
      .describe('people within the outline, given that the tree fails'),
    pTouch: z.number(),
    pAny: z.number(),
  })
  .openapi('TreeOverZone')
const tags = ['zones']
const middleware = only('officer', 'manager')

export const zones = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/zones',
        tags,
        summary: 'Target zones without their outlines',
        responses: answers(z.object({ zones: z.array(zone.omit({ geometry: true })) })),
      }),
      async (c) => c.json({ zones: await listZones(deps, c.get('person')) }, 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/zones/{id}',
        tags,
        summary: 'A target zone, and the trees whose fall may meet it (the 200 that bear most)',
        request: idParam,
        responses: answers(z.object({ zone, trees: z.array(treeOver), treesTotal: z.int() })),
      }),
      async (c) => c.json(await oneZone(deps, c.get('person'), c.req.valid('param').id), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/trees/{id}/zones',
        tags,
        summary: 'Target zones around a tree with their outlines',
        request: idParam,
        responses: answers(z.object({ zones: z.array(zone) })),
      }),
      async (c) =>
        c.json({ zones: await zonesAroundTree(deps, c.get('person'), c.req.valid('param').id) }, 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/zones',
        tags,
        summary: 'Draw a target zone',
        middleware,
        request: body(zoneInput),
        responses: answers(zone),
      }),
      async (c) => c.json(await addZone(deps, c.get('person'), c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/zones/{id}',
        tags,
        summary: 'Change a target zone; ratings that named it are opened again',
        middleware,
        request: { ...idParam, ...body(zoneInput.extend({ version: z.int().min(1) })) },
        responses: answers(zone),
      }),
      async (c) =>
        c.json(await changeZone(deps, c.get('person'), c.req.valid('param').id, c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/zones/{id}',
        tags,
        summary: 'Take a target zone off the map',
        middleware,
        request: idParam,
        responses: nothing,
      }),
      async (c) => {
        await removeZone(deps, c.get('person'), c.req.valid('param').id)
        return c.body(null, 204)
      },
    )
