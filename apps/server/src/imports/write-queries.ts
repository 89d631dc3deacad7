import { randomUUID } from 'node:crypto'
import { type Session, tables } from '@underbough/db'
import type { CivilDate, groundFeatureInput, TreeInput, ZoneInput } from '@underbough/model'
import { and, eq, sql } from 'drizzle-orm'
import type { z } from 'zod'
import { asGeometry } from '../geometry/queries.ts'
import { treeColumns } from '../trees/queries.ts'

const { groundFeature, tree, zone } = tables
type GroundInput = z.infer<typeof groundFeatureInput>
interface Keyed<T> {
  record: T
  sourceKey: string | null
}
const now = sql`now()` as never
const areaM2 = (geometry: object) => sql`ST_Area((${asGeometry(geometry)})::geography)` as never

export async function insertTrees(
  session: Session,
  organisationId: string,
  enteredOn: CivilDate,
  rows: Keyed<TreeInput>[],
): Promise<string[]> {
  const values = rows.map(({ record, sourceKey }) => ({
    organisationId,
    id: randomUUID(),
    enteredOn,
    sourceKey,
    ...treeColumns(record),
  }))
  await session.insert(tree).values(values)
  return values.map((value) => value.id)
}

/** Takes over the fields that differ and leaves all others as people here have written them. */
export async function updateTreeFields(
  session: Session,
  organisationId: string,
  sourceKey: string,
  record: TreeInput,
  fields: string[],
): Promise<string[]> {
  const { stemDiameterCm, ...columns } = treeColumns(record)
  const taken = Object.fromEntries(fields.map((field) => [field, columns[field as keyof typeof columns]]))
  const rows = await session
    .update(tree)
    .set({
      ...taken,
      ...(fields.includes('stems') ? { stemDiameterCm } : {}),
      version: sql`${tree.version} + 1` as never,
      updatedAt: now,
    })
    .where(and(eq(tree.organisationId, organisationId), eq(tree.sourceKey, sourceKey)))
    .returning({ id: tree.id })
  return rows.map((row) => row.id)
}

export async function insertZones(session: Session, organisationId: string, rows: Keyed<ZoneInput>[]) {
  await session.insert(zone).values(
    rows.map(({ record, sourceKey }) => ({
      organisationId,
      id: randomUUID(),
      sourceKey,
      ...record,
      areaM2: areaM2(record.geometry),
    })),
  )
}

/** A zone's name, kind and outline from a newer file; who is there stays as people here have said. Returns its id. */
export async function updateZoneShape(
  session: Session,
  organisationId: string,
  sourceKey: string,
  { name, kind, geometry, fromLine }: ZoneInput,
): Promise<string | undefined> {
  const [row] = await session
    .update(zone)
    .set({
      name,
      kind,
      geometry,
      fromLine,
      areaM2: areaM2(geometry),
      version: sql`${zone.version} + 1` as never,
      updatedAt: now,
    })
    .where(and(eq(zone.organisationId, organisationId), eq(zone.sourceKey, sourceKey)))
    .returning({ id: zone.id })
  return row?.id
}

export async function insertGround(session: Session, organisationId: string, rows: Keyed<GroundInput>[]) {
  await session
    .insert(groundFeature)
    .values(rows.map(({ record, sourceKey }) => ({ organisationId, id: randomUUID(), sourceKey, ...record })))
}

export async function updateGroundShape(
  session: Session,
  organisationId: string,
  sourceKey: string,
  { name, kind, geometry }: GroundInput,
) {
  await session
    .update(groundFeature)
    .set({ name, kind, geometry, version: sql`${groundFeature.version} + 1` as never, updatedAt: now })
    .where(and(eq(groundFeature.organisationId, organisationId), eq(groundFeature.sourceKey, sourceKey)))
}
