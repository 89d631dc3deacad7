import { z } from 'zod'
import { isCivilDate } from '../date.ts'

export const id = z.uuid()
export const civilDate = z.string().refine(isCivilDate, 'a day of the calendar, written 2026-11-25')
export const instant = z.iso.datetime({ offset: true })
export const text = (max: number) => z.string().trim().min(1).max(max)
export const note = z.string().trim().max(4000)
/** Degrees clockwise from true north. */
export const bearingDeg = z.number().min(0).lt(360)

const longitude = z.number().min(-180).max(180)
const latitude = z.number().min(-90).max(90)
/** [longitude, latitude], WGS84 degrees (RFC 7946). */
export const position = z.tuple([longitude, latitude])
const ring = z.array(position).min(4)
export const polygon = z.object({ type: z.literal('Polygon'), coordinates: z.array(ring).min(1) })
export const multiPolygon = z.object({
  type: z.literal('MultiPolygon'),
  coordinates: z.array(z.array(ring).min(1)).min(1),
})
export const areaGeometry = z.discriminatedUnion('type', [polygon, multiPolygon])
export const lineString = z.object({ type: z.literal('LineString'), coordinates: z.array(position).min(2) })
export const multiLineString = z.object({
  type: z.literal('MultiLineString'),
  coordinates: z.array(z.array(position).min(2)).min(1),
})
export const groundGeometry = z.discriminatedUnion('type', [
  lineString,
  multiLineString,
  polygon,
  multiPolygon,
])

export type Position = z.infer<typeof position>
export type AreaGeometry = z.infer<typeof areaGeometry>
export type GroundGeometry = z.infer<typeof groundGeometry>

/** What the server adds to every record that people edit. `version` rises by one with each change and guards against overwriting. */
export const stamped = { version: z.int().min(1), createdAt: instant, updatedAt: instant }
