import { randomUUID } from 'node:crypto'
import { z } from '@hono/zod-openapi'
import { today } from '@underbough/model'
import { planRounds, type RoundCost, straightLineTravel } from '@underbough/rounds'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { treeLine, withLateness } from '../trees/line.ts'
import { treeLines } from '../trees/queries.ts'
import { visitById } from '../visits/queries.ts'
import { roundInput } from './make.ts'
import * as queries from './queries.ts'

export const stopView = z.object({
  id: z.uuid(),
  tree: treeLine,
  order: z.int(),
  level: z.int(),
  arriveMinute: z.number(),
  startMinute: z.number(),
  leaveMinute: z.number(),
  travelM: z.number(),
  doneVisitId: z.uuid().nullable(),
  skippedBecause: z.string().nullable(),
  addedBecause: z.string().nullable().describe('why the crew put it on the day itself'),
  handedFrom: z.string().nullable().describe('name of the crew it was handed over by'),
  handedBecause: z.string().nullable(),
})
export const sheetView = z
  .object({
    id: z.uuid(),
    crewId: z.uuid(),
    date: z.string(),
    startMinute: z.int(),
    endMinute: z.int(),
    travelMinutes: z.number(),
    travelM: z.number(),
    serviceMinutes: z.number(),
    publishedAt: z.string().nullable(),
    stops: z.array(stopView),
  })
  .openapi('DaySheet')
type SheetView = z.infer<typeof sheetView>

/** Begins a plan as a job. What cannot be planned at all is refused at once, before anything is written. */
export async function beginPlan(deps: Deps, person: Person, asked: queries.Asked) {
  const { organisation, personId } = person
  const { input, detourFactor } = await roundInput(deps, organisation, asked)
  const trial = planRounds(
    { ...input, visits: input.visits.slice(0, 1), travel: straightLineTravel({ detourFactor }) },
    { seed: 1, iterations: 0 },
  )
  if (!trial.ok) throw new Refused(trial.refusals)
  const planId = randomUUID()
  let number = 0
  const jobId = await deps.jobs.startWith(
    organisation.id,
    'plan',
    { planId, asked },
    personId,
    planId,
    async (tx) => {
      number = await queries.insertPlan(tx, organisation.id, planId, asked, personId)
    },
  )
  return { planId, number, jobId }
}

interface StoredCost extends RoundCost {
  weights: { secondsPerRiskDay: number }
  accruedRiskDays: number
}

/**
 * Share of the peer's cost that a plan saves, 0 to 1; null while either is unknown. Lateness that had run up before the first
 * day is in neither: no plan can win it back.
 */
export function savedShare(cost: unknown, peer: unknown): number | null {
  const [ours, theirs] = [cost as StoredCost | null, peer as RoundCost | null]
  if (!ours || !theirs) return null
  const accrued = ours.accruedRiskDays * ours.weights.secondsPerRiskDay
  const open = theirs.total - accrued
  return open > 0 ? 1 - (ours.total - accrued) / open : null
}

/** Day sheets with their trees. */
export async function sheetViews(
  deps: Deps,
  person: Person,
  sheets: Awaited<ReturnType<typeof queries.sheetsOfDay>>,
  stops: Awaited<ReturnType<typeof queries.stopsOf>>,
): Promise<SheetView[]> {
  const { organisation } = person
  const lines = await treeLines(
    deps.database.db,
    organisation.id,
    stops.map((s) => s.treeId),
  )
  const late = withLateness(organisation, deps.now())
  const handedBy = [...new Set(stops.flatMap((s) => s.fromCrewId ?? []))]
  const crews =
    handedBy.length > 0 ? await queries.crewsById(deps.database.db, organisation.id, handedBy) : []
  return sheets.map(({ organisationId: _o, planId: _p, ...sheet }) => ({
    ...sheet,
    stops: stops
      .filter((s) => s.daySheetId === sheet.id)
      .map(({ organisationId: _oo, daySheetId: _d, treeId, fromCrewId, ...s }) => ({
        ...s,
        handedFrom: crews.find((one) => one.id === fromCrewId)?.name ?? null,
        tree: late(lines.get(treeId)!),
      })),
  }))
}

export async function planView(deps: Deps, person: Person, id: string) {
  const { organisation } = person
  const found =
    (await queries.planById(deps.database.db, organisation.id, id)) ??
    refuse('unknown', 'id', 'There is no such plan.')
  const { row, sheets, stops, left } = found
  const lines = await treeLines(
    deps.database.db,
    organisation.id,
    left.map((u) => u.treeId),
  )
  const late = withLateness(organisation, deps.now())
  const { organisationId: _, ...plan } = row
  return {
    plan: { ...plan, savedShare: savedShare(row.cost, row.peerCost) },
    daySheets: await sheetViews(deps, person, sheets, stops),
    unplaced: left.map((u) => ({
      tree: late(lines.get(u.treeId)!),
      code: u.code,
      message: u.message,
      addedCost: u.addedCost,
    })),
  }
}

/** Sends days to the crews. Refused as a whole where a crew or a tree would get a second sheet. Answers how many were sent. */
export async function publishPlan(deps: Deps, person: Person, id: string, dates: string[] | null) {
  const { organisation } = person
  return deps.database.transaction(async (tx) => {
    if (!(await queries.planExists(tx, organisation.id, id)))
      refuse('unknown', 'id', 'There is no such plan.')
    const day = today(organisation.timeZone, deps.now())
    const twice = await queries.sentTwice(tx, organisation.id, id, dates, day)
    if (twice.day)
      refuse(
        'conflict',
        'dates',
        `${twice.day.name} has been sent its ${twice.day.date} already by another plan. Make this plan anew.`,
      )
    if (twice.tag)
      refuse('conflict', 'dates', `Tree ${twice.tag} is on a day that was sent already. Make this plan anew.`)
    const published = await queries.publishSheets(tx, organisation.id, id, dates, deps.now())
    if (published === 0)
      refuse('conflict', 'dates', 'There is no unsent day among these in the plan. Nothing was sent.')
    return published
  })
}

/** Ends a stop of an issued sheet: done with a visit, or skipped with a reason. */
export async function endStop(
  deps: Deps,
  person: Person,
  id: string,
  end: { visitId: string | null; skippedBecause: string | null },
) {
  const organisationId = person.organisation.id
  if ((end.visitId === null) === (end.skippedBecause === null))
    refuse('malformed', '', 'A stop ends with a visit or with the reason why it was skipped.')
  await deps.database.transaction(async (tx) => {
    const found =
      (await queries.stopById(tx, organisationId, id)) ?? refuse('unknown', 'id', 'There is no such stop.')
    if (!found.publishedAt) refuse('conflict', 'id', 'This day has not been sent to the crews yet.')
    if (end.visitId && (await visitById(tx, organisationId, end.visitId))?.treeId !== found.stop.treeId)
      refuse('unknown', 'visitId', 'There is no such visit of this tree.')
    if (found.stop.doneVisitId && found.stop.doneVisitId !== end.visitId)
      refuse('conflict', 'id', 'This stop is done already.')
    await queries.endStop(tx, organisationId, id, {
      doneVisitId: end.visitId,
      skippedBecause: end.skippedBecause,
    })
  })
}
