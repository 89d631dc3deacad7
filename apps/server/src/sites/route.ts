import { createRoute, z } from '@hono/zod-openapi'
import { site, siteInput } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { answers, body, idParam, only, subject } from '../http/subject.ts'
import { addSite, changeSite, listSites } from './service.ts'

const tags = ['sites']
const middleware = only('officer', 'manager')

export const sites = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/sites',
        tags,
        summary: 'Parks, estates and street districts',
        responses: answers(z.object({ sites: z.array(site) })),
      }),
      async (c) => c.json({ sites: await listSites(deps, c.get('person')) }, 200),
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/sites',
        tags,
        summary: 'Add a site',
        middleware,
        request: body(siteInput),
        responses: answers(site),
      }),
      async (c) => c.json(await addSite(deps, c.get('person'), c.req.valid('json')), 200),
    )
    .openapi(
      createRoute({
        method: 'put',
        path: '/sites/{id}',
        tags,
        summary: 'Change a site',
        middleware,
        request: {
          ...idParam,
          ...body(
            siteInput.extend({
              version: z.int().min(1),
              contacts: siteInput.shape.contacts.unwrap().optional(),
            }),
          ),
        },
        responses: answers(site),
      }),
      async (c) =>
        c.json(await changeSite(deps, c.get('person'), c.req.valid('param').id, c.req.valid('json')), 200),
    )
