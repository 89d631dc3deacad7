import { combinedDiameterCm, type Tree, type TreeInput } from '@underbough/model'
import Papa from 'papaparse'
import { guarded } from './cells.ts'

/** A tree to be written; a stored one brings its identifier from the list it came from. */
export type WrittenTree = TreeInput & Partial<Pick<Tree, 'id' | 'sourceKey'>>

/** Columns of a written list of trees; each figure's name ends in its unit. */
const writers = {
  id: (t) => t.id ?? null,
  sourceKey: (t) => t.sourceKey ?? null,
  tag: (t) => t.tag,
  species: (t) => t.species,
  commonName: (t) => t.commonName,
  status: (t) => t.status,
  stemDiameterCm: (t) =>
    t.stems.length > 0 ? round(combinedDiameterCm(t.stems.map((s) => s.diameterCm))) : null,
  stemsCm: (t) => t.stems.map((s) => s.diameterCm).join(' / ') || null,
  measuredAtM: (t) => t.stems[0]?.measuredAtM ?? null,
  heightM: (t) => t.heightM,
  crownBaseHeightM: (t) => t.crownBaseHeightM,
  crownRadiusNorthM: (t) => t.crownRadiiM?.n ?? null,
  crownRadiusEastM: (t) => t.crownRadiiM?.e ?? null,
  crownRadiusSouthM: (t) => t.crownRadiiM?.s ?? null,
  crownRadiusWestM: (t) => t.crownRadiiM?.w ?? null,
  count: (t) => t.group?.count ?? null,
  owner: (t) => t.owner,
  plantedYear: (t) => t.plantedYear,
  note: (t) => t.note,
} satisfies Record<string, (tree: WrittenTree) => string | number | null>

const round = (n: number) => Math.round(n * 100) / 100

const written = (tree: WrittenTree): Record<string, string | number | null> =>
  Object.fromEntries(Object.entries(writers).map(([name, write]) => [name, write(tree)]))

/** Trees as a GeoJSON FeatureCollection of points (RFC 7946), as text. Unknown values are null. */
export function treesToGeoJson(trees: readonly WrittenTree[]): string {
  const features = trees.map((tree) => ({
    type: 'Feature',
    ...(tree.id ? { id: tree.id } : {}),
    geometry: { type: 'Point', coordinates: tree.position },
    properties: written(tree),
  }))
  return JSON.stringify({ type: 'FeatureCollection', features })
}

/** Trees as CSV (RFC 4180) with longitude and latitude in WGS84; text that looks like a formula gets an apostrophe. */
export function treesToCsv(trees: readonly WrittenTree[]): string {
  const fields = [...Object.keys(writers), 'longitude', 'latitude']
  const data = trees.map((tree) =>
    [...Object.values(written(tree)), ...tree.position].map((value) =>
      guarded(value === null ? '' : String(value)),
    ),
  )
  return Papa.unparse({ fields, data }, { newline: '\r\n' })
}
