import { createRoute, z } from '@hono/zod-openapi'
import { exposurePolicySchema } from '@underbough/exposure'
import { riskWords, tree, windRose, zone } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { answers, idParam, subject } from '../http/subject.ts'
import { zoneSurroundings } from './service.ts'

const treeNear = tree
  .pick({
    id: true,
    tag: true,
    species: true,
    commonName: true,
    siteId: true,
    position: true,
    status: true,
    heightM: true,
    stems: true,
    crownBaseHeightM: true,
    crownRadiiM: true,
    lean: true,
    clearingBearingDeg: true,
    slope: true,
    deadOrBrittle: true,
  })
  .extend({ risk: z.enum(riskWords).nullable() })

export const whatIf = (deps: Deps) =>
  subject().openapi(
    createRoute({
      method: 'get',
      path: '/zones/{id}/surroundings',
      tags: ['zones'],
      summary: 'What a device needs to reckon what a change of a zone would do',
      request: {
        ...idParam,
        query: z.object({
          carriedM: z.coerce.number().min(0).max(300).default(0).describe('how far it may be moved'),
        }),
      },
      responses: answers(
        z.object({
          zone,
          trees: z.array(treeNear).describe('standing trees that may reach it, the nearest first'),
          cut: z.boolean().describe('there are more trees than are given'),
          zones: z.array(zone).describe('what it is part of, its parts, and buildings that may stop a stem'),
          roses: z.array(z.object({ siteId: z.uuid(), windRose: windRose.nullable() })),
          policy: exposurePolicySchema,
          policyEdition: z.int(),
        }),
      ),
    }),
    async (c) =>
      c.json(
        await zoneSurroundings(deps, c.get('person'), c.req.valid('param').id, c.req.valid('query').carriedM),
        200,
      ),
  )
