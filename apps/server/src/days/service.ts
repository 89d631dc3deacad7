import { createHash } from 'node:crypto'
import { addDays, type CivilDate, today } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { crewsById } from '../plans/queries.ts'
import { mapView } from '../tiles/service.ts'
import { dayOf } from '../today/service.ts'
import type { TreeAlong } from './along.ts'
import {
  CORRIDOR_M,
  dayFiles,
  MOST_ZONES,
  mapFiles,
  type PackFile,
  photoFiles,
  treeFiles,
  zoneFiles,
} from './pack.ts'
import { countAlong, issuedDays, photosOfTrees, treesAlong, zoneCount, zonesUnder } from './queries.ts'

/** Everything that a person's phone needs for an issued day of theirs. */
export interface DayPack {
  date: CivilDate
  /** Changes when the day changes: its sheet, its trees, or the civil day at the office. */
  tag: string
  trees: number
  bytes: number
  files: PackFile[]
}

/** The pack of one day; without trees and files where no day has been sent to the person for that date. */
export async function dayPack(deps: Deps, person: Person, date: CivilDate): Promise<DayPack> {
  const { db } = deps.database
  const { organisation } = person
  const { daySheet, crew } = await dayOf(deps, person, { date })
  if (!daySheet || !crew) return { date, tag: 'none', trees: 0, bytes: 0, files: [] }
  const treeIds = [...new Set(daySheet.stops.map((stop) => stop.tree.id))]
  const view = await mapView(deps, person)
  const way = [crew.start, ...daySheet.stops.map((stop) => stop.tree.position), crew.end]
  const files = [
    ...dayFiles(
      date,
      daySheet.stops.length,
      await zoneCount(db, organisation.id),
      await countAlong(db, organisation.id, way, CORRIDOR_M),
    ),
    ...treeIds.flatMap(treeFiles),
    ...zoneFiles(await zonesUnder(db, organisation.id, treeIds, MOST_ZONES)),
    ...mapFiles(way, view.bounds, view.tilesVersion),
    ...photoFiles(await photosOfTrees(db, organisation.id, treeIds)),
  ]
  const said = {
    sheet: daySheet.id,
    sent: daySheet.publishedAt,
    day: today(organisation.timeZone, deps.now()),
    stops: daySheet.stops.map((stop) => [stop.id, stop.level, stop.tree.id]),
    photos: files.filter((one) => one.part === 'photos').map((one) => one.at),
  }
  return {
    date,
    tag: createHash('sha256').update(JSON.stringify(said)).digest('hex').slice(0, 16),
    trees: treeIds.length,
    bytes: files.reduce((sum, one) => sum + one.bytes, 0),
    files,
  }
}

/** Trees along the way of an issued day of the person's; none where no day has been sent to them for that date. */
export async function treesOfDay(deps: Deps, person: Person, date: CivilDate): Promise<TreeAlong[]> {
  const { daySheet, crew } = await dayOf(deps, person, { date })
  if (!daySheet || !crew) return []
  const way = [crew.start, ...daySheet.stops.map((stop) => stop.tree.position), crew.end]
  return treesAlong(deps.database.db, person.organisation.id, way, CORRIDOR_M)
}

/** The issued days of the person's own crews, `days` of them counted from a date, with what each would take to keep. */
export async function daysAhead(deps: Deps, person: Person, from: CivilDate, days: number) {
  const { db } = deps.database
  const crews = await crewsById(db, person.organisation.id, null)
  const mine = crews.filter((crew) => crew.memberIds.includes(person.personId)).map((crew) => crew.id)
  const found = await issuedDays(db, person.organisation.id, mine, from, addDays(from, days - 1))
  const sized = []
  for (const { date } of found) {
    const { bytes, trees } = await dayPack(deps, person, date)
    sized.push({ date, trees, bytes })
  }
  return sized
}
