import { z } from '@hono/zod-openapi'

/** `west,south,east,north` in degrees, as GeoJSON's bounding boxes are written. */
export const boundsQuery = z
  .string()
  .transform((text) => text.split(',').map(Number))
  .refine(
    (b) => b.length === 4 && b.every(Number.isFinite) && b[0]! <= b[2]! && b[1]! <= b[3]!,
    'west,south,east,north in degrees',
  )
  .transform((b) => b as [number, number, number, number])
  .openapi({ type: 'string', example: '7.40,43.72,7.44,43.75' })
