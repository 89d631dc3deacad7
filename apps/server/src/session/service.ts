import { demoPassword, type Session } from '@underbough/db'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { demoMembers, membershipEver, membershipOf } from './queries.ts'

/** The person behind a request's cookie, with the role they have now; null when signed out or no longer a member. */
export async function personOf(deps: Deps, headers: Headers): Promise<Person | null> {
  const found = await deps.auth.api.getSession({ headers })
  if (!found) return null
  return asPerson(await membershipOf(deps.database.db, found.user.id))
}

/** Somebody who belongs or belonged to the organisation, with the role they have or had; null for a stranger. */
export async function memberEver(
  session: Session,
  organisationId: string,
  personId: string,
): Promise<Person | null> {
  return asPerson(await membershipEver(session, organisationId, personId))
}

function asPerson(row: Awaited<ReturnType<typeof membershipOf>>): Person | null {
  if (!row) return null
  const { membership, organisation, name, email } = row
  const { demo: _, ...record } = organisation
  return {
    personId: membership.personId,
    name,
    email,
    role: membership.role,
    qualification: membership.qualification,
    qualificationExpiresOn: membership.qualificationExpiresOn,
    organisation: record,
  }
}

/** The answer to somebody who is not signed in; in the demo it offers the invented people at the door. */
export async function signedOut(deps: Deps): Promise<never> {
  const people = await demoMembers(deps.database.db)
  throw new Refused(
    [{ code: 'signed-out', path: '', message: 'Nobody is signed in.' }],
    people.length > 0 ? { demo: people.map((p) => ({ ...p, password: demoPassword })) } : {},
  )
}

/** Checks name and password; the answer carries the cookie. The same words for an unknown name and a wrong password. */
export async function signIn(
  deps: Deps,
  given: { email: string; password: string },
  headers: Headers,
): Promise<Response> {
  const response = await deps.auth.api.signInEmail({ body: given, headers, asResponse: true })
  if (!response.ok)
    refuse(
      'signed-out',
      'password',
      'That e-mail address and password do not belong together. Nothing was changed; try again.',
    )
  return response
}
