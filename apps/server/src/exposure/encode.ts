import type { ExposureTable, FigureColumns } from '@underbough/exposure'
import { CopyRows } from './copy-rows.ts'
import type { TreeReckoned, ZoneRead } from './facts.ts'

/** Rows for both tables: bytes for a bulk copy, or JSON for a database without one. */
export type Encoded =
  | { as: 'copy'; exposure: Uint8Array; exposureZone: Uint8Array }
  | { as: 'json'; exposure: string; exposureZone: string }

/** The same in each row. */
export interface Common {
  organisationId: string
  policyEdition: number
  methodVersion: string
  computedAtMs: number
}

const figureColumns = {
  p_touch: 'touchMean',
  p_touch_least: 'touchLeast',
  p_touch_most: 'touchMost',
  people: 'peopleMean',
  people_least: 'peopleLeast',
  people_most: 'peopleMost',
  people_stem: 'peopleStem',
  people_crown: 'peopleCrown',
  people_scatter: 'peopleScatter',
  p_any: 'anyMean',
  p_any_least: 'anyLeast',
  p_any_most: 'anyMost',
} as const satisfies Record<string, keyof FigureColumns>
const figureNames = Object.keys(figureColumns) as (keyof typeof figureColumns)[]
const figures = figureNames.join(', ')

export const exposureColumns = `organisation_id, tree_id, reach_m, ${figures}, flags, inputs_digest, policy_edition, method_version, computed_at`
export const exposureZoneColumns = `organisation_id, tree_id, zone_id, ${figures}, ground_stem, ground_crown, flags, touching`

export function encodeFigures(
  as: Encoded['as'],
  trees: readonly TreeReckoned[],
  zones: readonly ZoneRead[],
  table: ExposureTable,
  common: Common,
): Encoded {
  const pairs = touchedPairs(table, zones.length)
  return as === 'copy'
    ? {
        as,
        exposure: copyTrees(trees, table, common),
        exposureZone: copyPairs(pairs, trees, zones, table, common),
      }
    : {
        as,
        exposure: JSON.stringify(jsonTrees(trees, table, common)),
        exposureZone: JSON.stringify(jsonPairs(pairs, trees, zones, table, common)),
      }
}

/** Pairs whose fall may touch, zone by zone as the table's key is ordered. */
function touchedPairs({ pairs }: ExposureTable, zones: number): Int32Array {
  const starts = new Int32Array(zones + 1)
  const touched = (row: number) => pairs.touchMost[row]! > 0
  for (let row = 0; row < pairs.zone.length; row++) if (touched(row)) starts[pairs.zone[row]! + 1]!++
  for (let z = 0; z < zones; z++) starts[z + 1]! += starts[z]!
  const order = new Int32Array(starts[zones]!)
  for (let row = 0; row < pairs.zone.length; row++) if (touched(row)) order[starts[pairs.zone[row]!]!++] = row
  return order
}

const FIELDS_OF_TREE = 3 + figureNames.length + 5
const FIELDS_OF_PAIR = 3 + figureNames.length + 4

function copyTrees(trees: readonly TreeReckoned[], table: ExposureTable, common: Common): Uint8Array {
  const { reachM, flags } = table.trees
  const columns = figureNames.map((name) => table.trees[figureColumns[name]])
  const rows = new CopyRows(trees.length * 240)
  const organisation = CopyRows.identifier(common.organisationId)
  trees.forEach(({ id, digest }, t) => {
    rows.begin(FIELDS_OF_TREE)
    rows.bytes(organisation)
    rows.bytes(CopyRows.identifier(id))
    rows.real(reachM[t]!)
    for (const column of columns) rows.real(column[t]!)
    rows.integer(flags[t]!)
    rows.bytes(CopyRows.identifier(digest))
    rows.integer(common.policyEdition)
    rows.text(common.methodVersion)
    rows.instant(common.computedAtMs)
  })
  return rows.end()
}

function copyPairs(
  order: Int32Array,
  trees: readonly TreeReckoned[],
  zones: readonly ZoneRead[],
  { pairs }: ExposureTable,
  common: Common,
): Uint8Array {
  const columns = figureNames.map((name) => pairs[figureColumns[name]])
  const organisation = CopyRows.identifier(common.organisationId)
  const treeIds = trees.map(({ id }) => CopyRows.identifier(id))
  const zoneIds = zones.map(({ id }) => CopyRows.identifier(id))
  const rows = new CopyRows(order.length * 260)
  for (const row of order) {
    rows.begin(FIELDS_OF_PAIR)
    rows.bytes(organisation)
    rows.bytes(treeIds[pairs.tree[row]!]!)
    rows.bytes(zoneIds[pairs.zone[row]!]!)
    for (const column of columns) rows.real(column[row]!)
    rows.real(pairs.groundStem[row]!)
    rows.real(pairs.groundCrown[row]!)
    rows.integer(pairs.flags[row]!)
    rows.reals(pairs.bearings, pairs.bearingStarts[row]!, pairs.bearingStarts[row + 1]!)
  }
  return rows.end()
}

const figuresAt = (columns: FigureColumns, row: number) =>
  Object.fromEntries(figureNames.map((name) => [name, columns[figureColumns[name]][row]]))

const jsonTrees = (trees: readonly TreeReckoned[], table: ExposureTable, common: Common) =>
  trees.map(({ id, digest }, t) => ({
    organisation_id: common.organisationId,
    tree_id: id,
    reach_m: table.trees.reachM[t],
    ...figuresAt(table.trees, t),
    flags: table.trees.flags[t],
    inputs_digest: digest,
    policy_edition: common.policyEdition,
    method_version: common.methodVersion,
    computed_at: new Date(common.computedAtMs).toISOString(),
  }))

const jsonPairs = (
  order: Int32Array,
  trees: readonly TreeReckoned[],
  zones: readonly ZoneRead[],
  { pairs }: ExposureTable,
  common: Common,
) =>
  Array.from(order, (row) => ({
    organisation_id: common.organisationId,
    tree_id: trees[pairs.tree[row]!]!.id,
    zone_id: zones[pairs.zone[row]!]!.id,
    ...figuresAt(pairs, row),
    ground_stem: pairs.groundStem[row],
    ground_crown: pairs.groundCrown[row],
    flags: pairs.flags[row],
    touching: Array.from(pairs.bearings.subarray(pairs.bearingStarts[row], pairs.bearingStarts[row + 1])),
  }))
