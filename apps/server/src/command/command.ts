import { Refused } from '../http/problem.ts'
import { type Desk, Usage, withDeps } from './desk.ts'
import { help } from './help.ts'
import { importFile } from './import-file.ts'
import { addPerson, found } from './people.ts'
import { allOrganisations } from './queries.ts'

/** Runs one command. Returns the exit code: 0 done, 1 refused or failed, 2 wrong words. */
export async function command([verb, ...rest]: string[], desk: Desk): Promise<number> {
  try {
    if (!verb || verb === 'help' || verb === '--help' || verb === '-h') {
      desk.print(help)
      return 0
    }
    const work = verbs[verb]
    if (!work) throw new Usage(`There is no command “${verb}”.`)
    return await work(rest, desk)
  } catch (error) {
    if (error instanceof Usage || isParseError(error)) {
      desk.complain(`${(error as Error).message} Run “npm run underbough -- help” for what there is.`)
      return 2
    }
    const lines =
      error instanceof Refused
        ? error.refusals.map((r) => `${r.message} (${r.code})`)
        : [(error as Error).message]
    for (const line of lines) desk.complain(line)
    return 1
  }
}

const isParseError = (error: unknown) =>
  String((error as { code?: string }).code).startsWith('ERR_PARSE_ARGS')

const verbs: Record<string, (rest: string[], desk: Desk) => Promise<number>> = {
  found,
  'add-person': addPerson,
  import: importFile,
  async migrate(_, desk) {
    await withDeps(desk, async (deps) => desk.print(`The ${deps.database.kind} database is up to date.`))
    return 0
  },
  async recompute([what, ...more], desk) {
    if ((what !== 'exposure' && what !== 'due') || more.length > 0)
      throw new Usage('Say what to recompute: exposure or due.')
    return withDeps(desk, async (deps) => {
      let failed = 0
      for (const { id, name } of await allOrganisations(deps.database.db)) {
        const jobId = await deps.jobs.start(id, what, { treeIds: null }, 'command line')
        await deps.jobs.idle()
        const job = await deps.jobs.get(id, jobId)
        desk.print(
          `${name}: ${what} ${job?.state === 'done' ? 'recomputed' : `${job?.state}. ${job?.message}`}`,
        )
        if (job?.state !== 'done') failed = 1
      }
      return failed
    })
  },
}
