import { randomUUID } from 'node:crypto'
import { type Database, tables } from '@underbough/db'
import { type Position, planeAt, type ZoneInput } from '@underbough/model'

/** A corner of the invented town, on open sea: longitude and latitude. */
export const lampGreen: Position = [-8.25, -31.67]

/** A ring of corners given in metres east and north of a place, closed. */
export function ringAt([longitude, latitude]: Position, cornersM: [number, number][]): Position[] {
  const plane = planeAt(longitude, latitude)
  return [...cornersM, cornersM[0]!].map(([e, n]) => plane.toDegrees(e, n))
}

/** A play area of 20 by 10 metres with its south-west corner at a place. */
export const zoneExample = (changes: Partial<ZoneInput> = {}): ZoneInput => ({
  siteId: null,
  name: 'Play area',
  kind: 'play',
  geometry: {
    type: 'Polygon',
    coordinates: [
      ringAt(lampGreen, [
        [0, 0],
        [20, 0],
        [20, 10],
        [0, 10],
      ]),
    ],
  },
  fromLine: null,
  occupancyWord: 'frequent',
  occupancy: { kind: 'class', word: 'frequent', peopleWhenPresent: 2 },
  staticTarget: false,
  shelterHeightM: null,
  shelterClass: null,
  valueAtStake: null,
  partOf: null,
  note: '',
  ...changes,
})

/** Stores a tree and what follows from its records, past every rule; returns its id. */
export async function storeTree(
  database: Database,
  organisationId: string,
  values: Partial<typeof tables.tree.$inferInsert> & { position: object },
  state: Partial<typeof tables.treeState.$inferInsert> = {},
): Promise<string> {
  const id = values.id ?? randomUUID()
  await database.db.insert(tables.tree).values({
    organisationId,
    tag: `T${id.slice(0, 6)}`,
    species: 'Tilia cordata',
    stems: [],
    enteredOn: '2026-11-01',
    ...values,
    id,
  })
  await database.db.insert(tables.treeState).values({ organisationId, treeId: id, ...state })
  return id
}

export const point = (position: Position) => ({ type: 'Point', coordinates: position })
