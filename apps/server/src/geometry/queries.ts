import type { Session } from '@underbough/db'
import type { AreaGeometry, GroundGeometry } from '@underbough/model'
import { type SQL, sql } from 'drizzle-orm'
import type { PgColumn } from 'drizzle-orm/pg-core'

/** A geometry column read as GeoJSON. */
export const geojson = <T>(column: PgColumn | SQL) => sql<T>`ST_AsGeoJSON(${column}, 9)::json`

/** A GeoJSON geometry as a value that SQL can work with. */
export const asGeometry = (geometry: object) =>
  sql`ST_SetSRID(ST_GeomFromGeoJSON(${JSON.stringify(geometry)}::text), 4326)`

/** What the database says of a shape: area (square metres) and length (metres) on the ellipsoid, and what is wrong with it. */
export interface Measured {
  valid: boolean
  reason: string
  areaM2: number
  lengthM: number
}

/** Measures a shape whose rings are closed. The area of one that crosses itself is that of the nearest good one. */
export async function measure(session: Session, geometry: AreaGeometry | GroundGeometry): Promise<Measured> {
  const [row] = await session.execute<Measured & Record<string, unknown>>(sql`
    select ST_IsValid(g) as valid, ST_IsValidReason(g) as reason,
      ST_Area(ST_MakeValid(g)::geography) as "areaM2", ST_Length(ST_MakeValid(g)::geography) as "lengthM"
    from (select ${asGeometry(geometry)} as g) given`)
  return row!
}
