import { demoPassword, loadDemo } from '@underbough/db'
import { demoIsland } from '@underbough/fixtures'
import { today } from '@underbough/model'
import { recomputeDue } from './due/service.ts'
import type { Deps } from './http/context.ts'
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
  await deps.jobs.start(island.organisation.id, 'exposure', { treeIds: null }, island.people[0]!.personId)
  return { trees: island.trees.length, zones: island.zones.length }
}
