import { type Session, tables } from '@underbough/db'
import type { TreeSummary } from '@underbough/exchange'
import type { GroundGeometry, Position, Refusal } from '@underbough/model'
import { and, eq, isNotNull, sql } from 'drizzle-orm'
import { geojson } from '../geometry/queries.ts'

const { groundFeature, tree, zone } = tables
const position = sql<Position>`json_build_array(ST_X(${tree.position}), ST_Y(${tree.position}))`

/** Stored trees that came from a list, as far as a list speaks of them. */
export async function storedTrees(
  session: Session,
  organisationId: string,
): Promise<{ sourceKey: string; tree: TreeSummary }[]> {
  const rows = await session
    .select({
      sourceKey: tree.sourceKey,
      tag: tree.tag,
      species: tree.species,
      commonName: tree.commonName,
      position,
      stems: tree.stems,
      group: tree.group,
      heightM: tree.heightM,
      crownBaseHeightM: tree.crownBaseHeightM,
      crownRadiiM: tree.crownRadiiM,
      owner: tree.owner,
      plantedYear: tree.plantedYear,
      status: tree.status,
      note: tree.note,
    })
    .from(tree)
    .where(and(eq(tree.organisationId, organisationId), isNotNull(tree.sourceKey)))
  return rows.map(({ sourceKey, ...summary }) => ({ sourceKey: sourceKey!, tree: summary }))
}

/** Every tag in use, with the list identifier of its tree. */
export async function storedTags(
  session: Session,
  organisationId: string,
): Promise<Map<string, string | null>> {
  const rows = await session
    .select({ tag: tree.tag, sourceKey: tree.sourceKey })
    .from(tree)
    .where(eq(tree.organisationId, organisationId))
  return new Map(rows.map((row) => [row.tag, row.sourceKey]))
}

export interface StoredShape {
  sourceKey: string
  name: string | null
  kind: string
  geometry: GroundGeometry
}

/** Stored zones or ground features that came from a file. */
export async function storedShapes(
  session: Session,
  organisationId: string,
  kind: 'zones' | 'ground',
): Promise<StoredShape[]> {
  const from = kind === 'zones' ? zone : groundFeature
  const rows = await session
    .select({
      sourceKey: from.sourceKey,
      name: sql<string | null>`${from.name}`,
      kind: sql<string>`${from.kind}`,
      geometry: geojson<GroundGeometry>(from.geometry),
    })
    .from(from)
    .where(and(eq(from.organisationId, organisationId), isNotNull(from.sourceKey)))
  return rows.map((row) => ({ ...row, sourceKey: row.sourceKey! }))
}

/** What the database refuses of the shapes, by their place in the list. */
export async function shapeFaults(session: Session, shapes: GroundGeometry[]): Promise<Map<number, Refusal>> {
  const rows = await session.execute<{ place: number; reason: string }>(sql`
    select (ord - 1)::int as place, ST_IsValidReason(g) as reason
    from (select ord, ST_SetSRID(ST_GeomFromGeoJSON(v::text), 4326) as g
      from jsonb_array_elements(${JSON.stringify(shapes)}::jsonb) with ordinality as given(v, ord)) shapes
    where not ST_IsValid(g)`)
  return new Map(
    [...rows].map(({ place, reason }) => [
      place,
      {
        code: 'geometry-crosses-itself',
        path: 'geometry',
        message: `The outline crosses itself (${reason}).`,
      },
    ]),
  )
}
