import { z } from '@hono/zod-openapi'
import { treeLine } from '../trees/line.ts'

/** What a phone needs of a tree to find it again by its tag or species and to put it on a day. */
export const treeAlong = treeLine
  .pick({
    id: true,
    tag: true,
    species: true,
    commonName: true,
    position: true,
    status: true,
    risk: true,
    seen: true,
  })
  .extend({ dueOn: z.string().nullable() })
  .openapi('TreeAlong')
export type TreeAlong = z.infer<typeof treeAlong>
