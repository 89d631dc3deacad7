import { startThread } from '@underbough/db'
import { daysBetween, type Organisation, today } from '@underbough/model'
import {
  accruedRiskDays,
  type RoundInput,
  type RoundPlan,
  riskWeightOf,
  serviceMinutes,
} from '@underbough/rounds'
import type { Deps } from '../http/context.ts'
import { Refused } from '../http/problem.ts'
import type { JobContext } from '../jobs/jobs.ts'
import * as queries from './queries.ts'
import type { SolverInput, SolverMessage } from './solver.ts'

const DEFAULT_DETOUR = 1.3

/** The trees, crews and issued sheets that a plan is made from, as they stand now. A tree that a crew is sent to already is not among them. */
export async function roundInput(
  deps: Deps,
  organisation: Organisation,
  asked: queries.Asked,
): Promise<{ input: Omit<RoundInput, 'travel'>; detourFactor: number; levels: Map<string, 1 | 2 | 3> }> {
  const { db } = deps.database
  const day = today(organisation.timeZone, deps.now())
  const sent = await queries.treesSent(db, organisation.id, day)
  const trees = (await queries.treesToLookAt(db, organisation.id, asked.dueUntil, asked.siteId)).filter(
    (tree) => !sent.has(tree.id),
  )
  const crews = await queries.crewsById(db, organisation.id, asked.crewIds)
  const frozen = await queries.issuedSheets(db, organisation.id, asked.from)
  return {
    detourFactor: (await queries.detourFactor(db, organisation.id)) ?? DEFAULT_DETOUR,
    levels: new Map(trees.map((tree) => [tree.id, tree.level ?? 2])),
    input: {
      from: asked.from,
      days: asked.days,
      frozen,
      crews: crews.map((crew) => ({
        id: crew.id,
        name: crew.name,
        level: crew.level,
        equipment: crew.equipment,
        members: crew.memberIds,
        start: crew.start,
        end: crew.end,
        hours: crew.hours,
        ...(crew.breakMinutes > 0 ? { break: { minutes: crew.breakMinutes } } : {}),
        daysOff: crew.daysOff,
      })),
      visits: trees.map((tree) => ({
        id: tree.id,
        longitude: tree.longitude,
        latitude: tree.latitude,
        serviceMinutes: serviceMinutes(tree.level ?? 2),
        level: tree.level ?? 2,
        equipment: [],
        riskWeight: riskWeightOf(tree.risk, Math.max(0, daysBetween(tree.dueOn, day))),
        dueOn: tree.dueOn,
      })),
    },
  }
}

/** The job behind a plan: solves in a thread, tells how far it is, keeps the best when stopped, stores in one transaction. */
export async function makePlan(
  deps: Deps,
  organisation: Organisation,
  planId: string,
  asked: queries.Asked,
  job: JobContext,
): Promise<string> {
  const { input, detourFactor, levels } = await roundInput(deps, organisation, asked)
  const accrued = accruedRiskDays(input)
  const { plan, peer } = await solve(
    { input, detourFactor, seed: asked.seed, iterations: asked.iterations },
    job,
  )
  await deps.database.transaction((tx) =>
    queries.storePlan(tx, organisation.id, planId, plan, peer.cost, accrued, levels),
  )
  return job.cancelled() ? 'Stopped; the best plan so far is kept.' : ''
}

function solve(
  given: Omit<SolverInput, 'stop'>,
  job: JobContext,
): Promise<{ plan: RoundPlan; peer: RoundPlan }> {
  const stop = new SharedArrayBuffer(1)
  const thread = startThread(new URL('./solver.ts', import.meta.url), {
    workerData: { ...given, stop } satisfies SolverInput,
  })
  return new Promise((resolve, reject) => {
    thread.once('error', reject)
    thread.once('exit', (code) => code !== 0 && reject(new Error(`The planning thread ended with ${code}`)))
    thread.on('message', (message: SolverMessage) => {
      if ('progress' in message) {
        // A stopped plan is still a plan: the thread is asked to hand over its best.
        const { iteration, iterations, placed } = message.progress
        job
          .progress(iteration, iterations, `${placed} trees on the rounds`)
          .catch(() => Atomics.store(new Uint8Array(stop), 0, 1))
        return
      }
      if (!message.plan.ok) return reject(new Refused(message.plan.refusals))
      if (!message.peer.ok) return reject(new Refused(message.peer.refusals))
      resolve({ plan: message.plan.value, peer: message.peer.value })
    })
  })
}
