import { type SQL, sql } from 'drizzle-orm'

/** Less than the metres of a degree anywhere on the ellipsoid, so that the box never leaves out what the distance takes in. */
const LEAST_M_PER_DEGREE = 110_500

/**
 * Whether geometry `a` lies within a geodesic distance of `b`. A box in degrees comes first: it uses the plain spatial index
 * and spares the dear geodesic distance, which alone took fifteen times as long over the demo's trees and zones. Not for use
 * within a degree of a pole or across the date line.
 */
export function near(a: SQL, b: SQL, metres: SQL): SQL {
  return sql`(${a} && ST_Expand(${b}, (${metres}) / (${LEAST_M_PER_DEGREE} * cos(radians(ST_YMax(${b})))) * 1.01, (${metres}) / ${LEAST_M_PER_DEGREE})
    and ST_DWithin((${a})::geography, (${b})::geography, ${metres}))`
}
