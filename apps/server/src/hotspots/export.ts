import { type ListFacts, spotsToCsv, spotsToGeoJson, type WrittenSpot } from '@underbough/exchange'
import { today } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { cellRing } from './cells.ts'
import { type Basis, outlines, type SpotQuestion } from './queries.ts'
import { listHotspots } from './service.ts'

const rankedBy: Record<Basis, string> = {
  one: 'people within the outline if the tree that bears most fails',
  rated: 'people within the outline, all trees rated moderate or more added',
  rating: 'trees rated extreme, then high, then moderate',
}
const meaning =
  'Given that the tree fails; not how likely that is. Supports a qualified person’s judgement, follows local law and codes, and does not replace them.'

async function writtenSpots(deps: Deps, person: Person, question: SpotQuestion) {
  const { spots, computedAt, methodVersion } = await listHotspots(deps, person, question)
  const geometries = await outlines(
    deps.database.db,
    person.organisation.id,
    spots.flatMap(({ zone }) => zone?.id ?? []),
  )
  const rows = spots.map(
    ({ zone, cell, before, worst, ...spot }): WrittenSpot => ({
      ...spot,
      of: zone ? 'zone' : 'cell',
      name: zone?.name ?? `cell ${spot.id}`,
      kind: zone?.kind ?? null,
      geometry: zone ? geometries.get(zone.id)! : { type: 'Polygon', coordinates: [cellRing(cell!)] },
      worstTags: worst.map(({ tag }) => tag),
      peopleBefore: before?.people.mean ?? null,
      sumModerateBefore: before?.sumModerate ?? null,
    }),
  )
  const listedOn = today(person.organisation.timeZone, deps.now())
  const facts: ListFacts = {
    rankedBy: rankedBy[question.basis],
    listedOn,
    computedAt,
    methodVersion,
    meaning,
  }
  return { rows, facts, name: `hotspots-${question.of}-${listedOn}` }
}

/** The list as CSV text (RFC 4180), and what to call it. */
export async function hotspotsAsCsv(deps: Deps, person: Person, question: SpotQuestion) {
  const { rows, facts, name } = await writtenSpots(deps, person, question)
  return { text: spotsToCsv(rows, facts), name: `${name}.csv` }
}

/** The list as GeoJSON text (RFC 7946), and what to call it. */
export async function hotspotsAsGeoJson(deps: Deps, person: Person, question: SpotQuestion) {
  const { rows, facts, name } = await writtenSpots(deps, person, question)
  return { text: spotsToGeoJson(rows, facts), name: `${name}.geojson` }
}
