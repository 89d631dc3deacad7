import { createRoute, z } from '@hono/zod-openapi'
import { groundFeature, groundFeatureInput, groundGeometry } from '@underbough/model'
import { boundsQuery } from '../http/bounds.ts'
import type { Deps } from '../http/context.ts'
import { answers, body, idParam, nothing, only, subject } from '../http/subject.ts'
import { addGroundFeature, changeGroundFeature, listGroundFeatures, removeGroundFeature } from './service.ts'

const collection = z
  .object({
    type: z.literal('FeatureCollection'),
    features: z.array(
      z.object({
        type: z.literal('Feature'),
        id: z.uuid(),
        geometry: groundGeometry,
        properties: groundFeature.omit({ geometry: true }),
      }),
    ),
  })
  .openapi('GroundFeatureCollection')
const tags = ['ground features']
const middleware = only('officer', 'manager')

export const groundFeatures = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/ground-features',
        tags,
        summary: 'Paths, roads, water, greens, fences and buildings of the map, as GeoJSON',
        request: { query: z.object({ bbox: boundsQuery.optional() }) },
        responses: answers(collection),
      }),
      async (c) =>
        c.json(await listGroundFeatures(deps, c.get('person'), c.req.valid('query').bbox ?? null), 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/ground-features',
        tags,
        summary: 'Draw a ground feature',
        middleware,
        request: body(groundFeatureInput),
        responses: answers(groundFeature),
      }),
      async (c) => c.json(await addGroundFeature(deps, c.get('person'), c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/ground-features/{id}',
        tags,
        summary: 'Change a ground feature',
        middleware,
        request: { ...idParam, ...body(groundFeatureInput.extend({ version: z.int().min(1) })) },
        responses: answers(groundFeature),
      }),
      async (c) =>
        c.json(
          await changeGroundFeature(deps, c.get('person'), c.req.valid('param').id, c.req.valid('json')),
          200,
        ),
    )
    .openapi(
      createRoute({
        method: 'delete',
        path: '/ground-features/{id}',
        tags,
        summary: 'Take a ground feature off the map',
        middleware,
        request: idParam,
        responses: nothing,
      }),
      async (c) => {
        await removeGroundFeature(deps, c.get('person'), c.req.valid('param').id)
        return c.body(null, 204)
      },
    )
