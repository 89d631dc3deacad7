import { sql } from 'drizzle-orm'
import { customType, integer, text, uuid } from 'drizzle-orm/pg-core'

/**
 * A geometry in WGS84, written and read as GeoJSON. Drivers hand back the raw value of a geometry column, so queries select
 * `ST_AsGeoJSON(column)::json` (see `geojson` in ../sql.ts).
 */
export const geometry = customType<{ data: object; driverData: string; config: { kind: string } }>({
  dataType: (config) => `geometry(${config?.kind ?? 'Geometry'},4326)`,
  toDriver: (value) => sql`ST_SetSRID(ST_GeomFromGeoJSON(${JSON.stringify(value)}),4326)`,
})

export const bytes = customType<{ data: Uint8Array; driverData: Buffer }>({
  dataType: () => 'bytea',
  toDriver: (value) => Buffer.from(value),
  fromDriver: (value) => new Uint8Array(value),
})

/** First part of every key, so that tables can be spread by organisation. */
export const organisationId = () => uuid('organisation_id').notNull()
/** An instant, as an ISO 8601 string in UTC on both sides. */
export const instant = customType<{ data: string; driverData: string }>({
  dataType: () => 'timestamp with time zone',
  fromDriver: (value) => new Date(value).toISOString(),
})
export const stamped = () => ({
  version: integer('version').notNull().default(1),
  createdAt: instant('created_at').notNull().default(sql`now()`),
  updatedAt: instant('updated_at').notNull().default(sql`now()`),
})
export const words = <T extends string>(name: string) => text(name).$type<T>()
