import type { AreaGeometry, Position } from '@underbough/model'
import Papa from 'papaparse'
import { guarded } from './cells.ts'

/** One row of a written list of hotspots. People are mean numbers within the outline, given that the tree fails. */
export interface WrittenSpot {
  id: string
  geometry: AreaGeometry
  /** A point within it. */
  place: Position
  rank: number
  of: 'zone' | 'cell'
  name: string
  kind: string | null
  people: { mean: number; least: number; most: number }
  sumModerate: number
  trees: number
  treesModerate: number
  treesHigh: number
  treesExtreme: number
  worstTags: readonly string[]
  change: string | null
  peopleBefore: number | null
  sumModerateBefore: number | null
}

/** What a whole list says of itself, on each row of a CSV and once in a GeoJSON. */
export interface ListFacts {
  rankedBy: string
  listedOn: string
  computedAt: string | null
  methodVersion: string | null
  meaning: string
}

type Cell = string | number | null
/** Columns; each figure's name ends in its unit. */
const writers = {
  rank: (s) => s.rank,
  of: (s) => s.of,
  id: (s) => s.id,
  name: (s) => s.name,
  kind: (s) => s.kind,
  worstTreeMeanPeople: (s) => figure(s.people.mean),
  worstTreeLeastPeople: (s) => figure(s.people.least),
  worstTreeMostPeople: (s) => figure(s.people.most),
  sumModerateOrMorePeople: (s) => figure(s.sumModerate),
  overItTrees: (s) => s.trees,
  ratedModerateOrMoreTrees: (s) => s.treesModerate,
  ratedHighOrMoreTrees: (s) => s.treesHigh,
  ratedExtremeTrees: (s) => s.treesExtreme,
  responsibleTags: (s) => s.worstTags.join('; '),
  sinceLastMonth: (s) => s.change,
  lastMonthWorstTreeMeanPeople: (s) => (s.peopleBefore === null ? null : figure(s.peopleBefore)),
  lastMonthSumModerateOrMorePeople: (s) =>
    s.sumModerateBefore === null ? null : figure(s.sumModerateBefore),
} satisfies Record<string, (spot: WrittenSpot) => Cell>

/** Six significant figures: more than the method is good for, and no tail of binary fractions. */
const figure = (n: number) => Number(n.toPrecision(6))
const written = (spot: WrittenSpot): Record<string, Cell> =>
  Object.fromEntries(Object.entries(writers).map(([name, write]) => [name, write(spot)]))

/** Hotspots as CSV (RFC 4180): a header, CRLF, WGS84 degrees; text that a spreadsheet would take for a formula gets an apostrophe. */
export function spotsToCsv(spots: readonly WrittenSpot[], facts: ListFacts): string {
  const fields = [...Object.keys(writers), 'longitudeDeg', 'latitudeDeg', ...Object.keys(facts)]
  const data = spots.map((spot) =>
    [...Object.values(written(spot)), ...spot.place, ...Object.values(facts)].map((value) =>
      guarded(value === null ? '' : String(value)),
    ),
  )
  return `${Papa.unparse({ fields, data }, { newline: '\r\n' })}\r\n`
}

/** Hotspots as a GeoJSON FeatureCollection of areas (RFC 7946); what the list says of itself is a member beside the features. */
export function spotsToGeoJson(spots: readonly WrittenSpot[], facts: ListFacts): string {
  return JSON.stringify({
    type: 'FeatureCollection',
    about: facts,
    features: spots.map((spot) => ({
      type: 'Feature',
      id: spot.id,
      geometry: spot.geometry,
      properties: written(spot),
    })),
  })
}
