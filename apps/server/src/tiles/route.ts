import { promisify } from 'node:util'
import { gzip } from 'node:zlib'
import { createRoute, z } from '@hono/zod-openapi'
import type { Context } from 'hono'
import type { Deps, Env } from '../http/context.ts'
import { problemSchema } from '../http/problem.ts'
import { answers, subject } from '../http/subject.ts'
import type { Tile } from './grid.ts'
import { type Narrowing, narrowingQuery } from './narrowing.ts'
import { type Layer, mapView, names, standingTile, tilesVersion } from './service.ts'

const tags = ['map']
const bounds = z.array(z.number()).length(4).describe('west, south, east, north in degrees')
const version = z.object({ trees: z.string(), ground: z.string() }).openapi('TilesVersion')
const view = z.object({
  bounds,
  sites: z.array(z.object({ id: z.uuid(), name: z.string(), bounds })),
  tilesVersion: version,
  today: z.string(),
})
const whole = z.coerce.number().int().min(0)
const params = z.object({
  z: whole,
  x: whole,
  y: z
    .string()
    .regex(/^\d{1,8}\.mvt$/)
    .describe('row, and .mvt'),
})
const ofVersion = z.object({
  v: z.string().optional().describe('version of the map, to tell fresh addresses from kept ones'),
})
const responses = {
  200: {
    description: 'A vector tile',
    content: { 'application/protobuf': { schema: z.string().openapi({ format: 'binary' }) } },
  },
  304: { description: 'The tile that the browser holds is still right' },
  default: { description: 'Why not', content: { 'application/problem+json': { schema: problemSchema } } },
}
const zip = promisify(gzip)
const LEAST_ZIPPED = 1024

export const tiles = (deps: Deps) =>
  subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/map/view',
        tags,
        summary: 'Where the map opens',
        responses: answers(view),
      }),
      async (c) => c.json(await mapView(deps, c.get('person')), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/tiles/version',
        tags,
        summary: 'Versions of the tiles: part of their addresses',
        responses: answers(version),
      }),
      async (c) => c.json(await tilesVersion(deps, c.get('person')), 200),
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/tiles/trees/{z}/{x}/{y}',
        tags,
        summary:
          'Trees of a tile: layer trees (and others, those that do not pass), or cells (counts) below zoom 12',
        request: { params, query: ofVersion.extend(narrowingQuery.shape).strict() },
        responses,
      }),
      (c) => {
        const { v: _, ...narrowing } = c.req.valid('query')
        return answer(deps, c, 'trees', tileOf(c.req.valid('param')), narrowing) as never
      },
    )
    .openapi(
      createRoute({
        method: 'get',
        path: '/tiles/ground/{z}/{x}/{y}',
        tags,
        summary: 'Ground and target zones of a tile: layers ground and zones',
        request: { params, query: ofVersion },
        responses,
      }),
      (c) => answer(deps, c, 'ground', tileOf(c.req.valid('param')), {}) as never,
    )

const tileOf = ({ z: zoom, x, y }: z.output<typeof params>): Tile => ({
  z: zoom,
  x,
  y: Number.parseInt(y, 10),
})

/** The tile, or 304 when the browser holds it. Never kept without asking: a browser may be shared. */
async function answer(
  deps: Deps,
  c: Context<Env>,
  layer: Layer,
  tile: Tile,
  narrowing: Narrowing,
): Promise<Response> {
  const { etag, make } = await standingTile(deps, c.get('person'), layer, tile, narrowing)
  const headers = { etag, 'cache-control': 'private, no-cache', vary: 'cookie, accept-encoding' }
  if (names(c.req.header('if-none-match'), etag)) return c.body(null, 304, headers)
  const bytes = await make()
  const zipped = bytes.length >= LEAST_ZIPPED && /\bgzip\b/.test(c.req.header('accept-encoding') ?? '')
  const body = zipped ? await zip(bytes, { level: 3 }) : bytes
  return c.body(new Uint8Array(body), 200, {
    ...headers,
    'content-type': 'application/protobuf',
    ...(zipped ? { 'content-encoding': 'gzip' } : {}),
  })
}
