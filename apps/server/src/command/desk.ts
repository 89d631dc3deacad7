import type { Deps, Person } from '../http/context.ts'
import { organisationById } from '../session/queries.ts'
import { allOrganisations } from './queries.ts'

/** What a command may use. `open` opens and migrates the database that the environment names. */
export interface Desk {
  open(): Promise<Deps>
  close(deps: Deps): Promise<void>
  print(line: string): void
  complain(line: string): void
}

/** Wrong words on the command line; the exit code is 2. */
export class Usage extends Error {}

/** Runs work with the database open, and closes it whatever happens. */
export async function withDeps<T>(desk: Desk, work: (deps: Deps) => Promise<T>): Promise<T> {
  const deps = await desk.open()
  try {
    return await work(deps)
  } finally {
    await desk.close(deps)
  }
}

/** The organisation a command works for: the only one, or the one named. */
export async function actor(deps: Deps, named: string | undefined): Promise<Person> {
  const all = await allOrganisations(deps.database.db)
  const found = named ? all.filter(({ id, name }) => id === named || name === named) : all
  if (found.length !== 1)
    throw new Usage(
      all.length === 0
        ? 'There is no organisation yet.'
        : `Say which organisation with --organisation: ${all.map(({ name }) => `“${name}”`).join(', ')}.`,
    )
  return {
    personId: 'command line',
    name: 'Command line',
    email: 'command@localhost',
    role: 'officer',
    qualification: null,
    qualificationExpiresOn: null,
    organisation: await organisationById(deps.database.db, found[0]!.id),
  }
}
