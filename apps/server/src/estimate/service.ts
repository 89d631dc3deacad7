import { hoursOfZones, meanPeople } from '@underbough/exposure'
import { failureWords, type Scenario, type ZoneKind } from '@underbough/model'
import {
  besidePublishedLines,
  chanceOfAny,
  expectedPerYear,
  type FailureBands,
  individualPerYear,
  type LineVerdict,
  moversOf,
  type Span,
  yearlySpan,
} from '@underbough/rating'
import type { Deps, Person } from '../http/context.ts'
import { withLateness } from '../trees/line.ts'
import { treeLines } from '../trees/queries.ts'
import { type Decided, standing } from './decision.ts'
import * as queries from './queries.ts'
import { freshenAll, freshenTree } from './scenarios.ts'

const WORST_TREES = 3
const TIME_FRAMES = [1, 2, 3, 4, 5]

const chancesOf = (bands: FailureBands): queries.YearlyChances =>
  failureWords.flatMap((failure) =>
    TIME_FRAMES.map((years) => ({ failure, years, ...yearlySpan(failure, years, bands) })),
  )

/** Zones by what is expected per year, with the trees responsible; nothing while the estimate is off. */
export async function expectedZones(deps: Deps, person: Person, filter: queries.ZoneFilter) {
  const { on, decision } = await standing(deps, person)
  if (!on) return { on, zones: [], total: null, waiting: 0 }
  const { db } = deps.database
  const { organisation } = person
  const waiting = await freshenAll(deps, organisation.id, person.personId)
  const chances = chancesOf(decision!.decided!.bands)
  const found = await queries.zonesExpected(db, organisation.id, chances, WORST_TREES, filter)
  const lines = await treeLines(db, organisation.id, [
    ...new Set(found.flatMap(({ worst }) => worst.map(({ treeId }) => treeId))),
  ])
  const late = withLateness(organisation, deps.now())
  return {
    on,
    zones: found.map(({ id, name, kind, place, least, middle, most, trees, worst }, i) => ({
      zone: { id, name, kind, place },
      perYear: { least, middle, most },
      trees,
      worst: worst.flatMap(({ treeId, ...perYear }) => {
        const line = lines.get(treeId)
        return line ? [{ tree: late(line), perYear }] : []
      }),
      rank: i + 1,
    })),
    total: await queries.totalExpected(db, organisation.id, chances),
    waiting,
  }
}

export interface NamedUser {
  who: string
  zoneId: string
  zoneName: string
  hoursPerYear: number
  perYear: Span
  verdict: LineVerdict
  trees: number
}

/** Yearly figures of the named users over all trees at their place, the most exposed first. */
export async function namedUsers(
  deps: Deps,
  organisationId: string,
  decided: Decided,
  zoneIds?: ReadonlySet<string>,
): Promise<NamedUser[]> {
  const { db } = deps.database
  const users = decided.users.filter(({ zoneId }) => !zoneIds || zoneIds.has(zoneId))
  const ids = [...new Set(users.map(({ zoneId }) => zoneId))]
  const lines = await queries.linesOfZones(db, organisationId, ids)
  const zones = await queries.zonesOnGround(db, organisationId, ids)
  const hours = hoursOfZones(zones)
  const names = new Map((await queries.zoneNames(db, organisationId, ids)).map(({ id, name }) => [id, name]))
  return users
    .flatMap((user): NamedUser[] => {
      const zoneName = names.get(user.zoneId)
      const present = meanPeople(hours.get(user.zoneId) ?? [])
      // Without anybody there at all nothing says how much of the place lies within an outline.
      if (zoneName === undefined || !(present > 0)) return []
      const over = lines.filter(({ zoneId }) => zoneId === user.zoneId)
      const perYear = individualPerYear(
        over.map(({ failure, timeFrameYears, people }) => ({
          failure,
          timeFrameYears,
          share: {
            least: Math.min(1, people.least / present),
            mean: Math.min(1, people.mean / present),
            most: Math.min(1, people.most / present),
          },
        })),
        user.hoursPerYear,
        decided.vulnerability,
        decided.bands,
      )
      const trees = new Set(over.map(({ treeId }) => treeId)).size
      return [{ ...user, zoneName, perYear, verdict: besidePublishedLines(perYear), trees }]
    })
    .sort((a, b) => b.perYear.middle - a.perYear.middle)
}

export interface ExpectedScenario {
  part: Scenario['part']
  description: string
  failure: Scenario['failure']
  timeFrameYears: number
  /** Chance of failure in one year. */
  yearly: Span
  perYear: Span
  zones: {
    id: string
    name: string
    kind: ZoneKind
    people: { mean: number; least: number; most: number }
    perYear: Span
  }[]
}

/** One tree's part in it: scenario by scenario, what moves the answer, and the most exposed named user it reaches. */
export async function expectedOfTree(deps: Deps, person: Person, treeId: string) {
  const { on, decision } = await standing(deps, person)
  if (!on) return { on, tree: null }
  const { db } = deps.database
  const { id: organisationId } = person.organisation
  const decided = decision!.decided!
  await freshenTree(deps, organisationId, treeId)
  const inForce = await queries.scenariosInForce(db, organisationId, treeId)
  if (inForce.length === 0) return { on, tree: null }
  const lines = await queries.linesOfTree(db, organisationId, treeId)
  const zoneIds = new Set(lines.map(({ zoneId }) => zoneId))
  const zones = new Map(
    (await queries.zoneNames(db, organisationId, [...zoneIds])).map((zone) => [zone.id, zone]),
  )
  const scenarios = inForce.map(({ key, scenario, timeFrameYears }): ExpectedScenario => {
    const own = lines.filter((line) => line.key === key && line.people.most > 0)
    return {
      part: scenario.part,
      description: scenario.description,
      failure: scenario.failure,
      timeFrameYears,
      yearly: yearlySpan(scenario.failure, timeFrameYears, decided.bands),
      perYear: expectedPerYear(own, decided.bands),
      zones: own
        .map((line) => ({
          ...zones.get(line.zoneId)!,
          people: line.people,
          perYear: expectedPerYear([line], decided.bands),
        }))
        .sort((a, b) => b.perYear.middle - a.perYear.middle),
    }
  })
  const any = (end: 'least' | 'most') => chanceOfAny(scenarios.map(({ yearly }) => yearly[end]))[end]
  const [mostExposed] = await namedUsers(deps, organisationId, decided, zoneIds)
  return {
    on,
    tree: {
      decidedOn: decision!.madeAt,
      bandsEdition: decided.bands.edition,
      perYear: expectedPerYear(lines, decided.bands),
      /** Chance in a year that any of its scenarios comes about. */
      anyFails: { least: any('least'), most: any('most') },
      scenarios,
      movers: moversOf(lines, decided.bands),
      workedOnSince: await queries.workedOnSince(db, organisationId, treeId),
      mostExposed: mostExposed ?? null,
    },
  }
}
