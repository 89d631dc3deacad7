import { randomUUID } from 'node:crypto'
import { demoPassword, loadDemo } from '@underbough/db'
import { demoIsland } from '@underbough/fixtures'
import { addDays, type Organisation, today } from '@underbough/model'
import { accruedRiskDays, planRounds, straightLineTravel, urgencyThenNearest } from '@underbough/rounds'
import { recomputeDue } from './due/service.ts'
import type { Deps } from './http/context.ts'
import { roundInput } from './plans/make.ts'
import { insertPlan, publishSheets, storePlan } from './plans/queries.ts'
import { addAccount } from './session/auth.ts'
import { anyOrganisation } from './session/queries.ts'

/** Loads the demo island where the database holds no organisation yet and nobody said no; answers what was loaded. */
export async function ensureDemo(deps: Deps): Promise<{ trees: number; zones: number } | null> {
  if (process.env.UNDERBOUGH_DEMO === 'no' || (await anyOrganisation(deps.database.db))) return null
  const island = demoIsland(417, today('Atlantic/St_Helena', deps.now()))
  await loadDemo(deps.database, island)
  for (const { personId: id, name, email } of island.people)
    await addAccount(deps.database, { id, name, email, password: demoPassword })
  await deps.database.transaction((tx) => recomputeDue(tx, island.organisation, null))
  const officer = island.people.find((person) => person.role === 'officer')!.personId
  await sendFirstRound(deps, island.organisation, officer)
  await deps.jobs.start(island.organisation.id, 'exposure', { treeIds: null }, officer)
  return { trees: island.trees.length, zones: island.zones.length }
}

/** A small round from today, already sent, so that the island's crews have a day to open. */
async function sendFirstRound(deps: Deps, organisation: Organisation, officerId: string) {
  const from = today(organisation.timeZone, deps.now())
  const asked = {
    from,
    days: 5,
    dueUntil: addDays(from, 21),
    crewIds: null,
    siteId: null,
    seed: 1,
    iterations: 5000,
  }
  const { input, detourFactor, levels } = await roundInput(deps, organisation, asked)
  const whole = { ...input, travel: straightLineTravel({ detourFactor }) }
  const [made, peer] = [planRounds(whole, asked), urgencyThenNearest(whole)]
  if (!made.ok || !peer.ok) return
  const planId = randomUUID()
  await deps.database.transaction(async (tx) => {
    await insertPlan(tx, organisation.id, planId, asked, officerId)
    await storePlan(tx, organisation.id, planId, made.value, peer.value.cost, accruedRiskDays(input), levels)
    await publishSheets(tx, organisation.id, planId, null, deps.now())
  })
}
