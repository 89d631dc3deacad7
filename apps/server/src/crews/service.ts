import { randomUUID } from 'node:crypto'
import type { Session } from '@underbough/db'
import type { Crew, crewInput, Refusal } from '@underbough/model'
import type { z } from 'zod'
import { conflict } from '../http/conflict.ts'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { membersOf } from '../session/queries.ts'
import { allCrews, crewById, daySheetsOf, deleteCrew, insertCrew, updateCrew } from './queries.ts'

type Input = z.infer<typeof crewInput>
const days = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday']

export const listCrews = (deps: Deps, person: Person) => allCrews(deps.database.db, person.organisation.id)
export const listPeople = (deps: Deps, person: Person) => membersOf(deps.database.db, person.organisation.id)

export async function addCrew(deps: Deps, person: Person, input: Input): Promise<Crew> {
  const id = randomUUID()
  return store(deps, person, id, input, (tx) => insertCrew(tx, person.organisation.id, id, input))
}

export async function changeCrew(
  deps: Deps,
  person: Person,
  id: string,
  { version, ...input }: Input & { version: number },
): Promise<Crew> {
  return store(deps, person, id, input, async (tx) => {
    const stored = await crewById(tx, person.organisation.id, id)
    if (!stored) refuse('unknown', 'id', 'There is no such crew.')
    if (!(await updateCrew(tx, person.organisation.id, id, version, input))) conflict(stored)
  })
}

/** A crew that has day sheets stays: what it did would lose its name. */
export async function removeCrew(deps: Deps, person: Person, id: string) {
  await deps.database.transaction(async (tx) => {
    const stored = await crewById(tx, person.organisation.id, id)
    if (!stored) refuse('unknown', 'id', 'There is no such crew.')
    const sheets = await daySheetsOf(tx, person.organisation.id, id)
    if (sheets > 0)
      refuse('in-use', 'id', `${stored.name} has ${sheets} day sheets. Take its working hours away instead.`)
    await deleteCrew(tx, person.organisation.id, id)
  })
}

async function store(
  deps: Deps,
  person: Person,
  id: string,
  input: Input,
  write: (tx: Session) => Promise<void>,
): Promise<Crew> {
  const refusals = hoursRefused(input)
  if (refusals.length > 0) throw new Refused(refusals)
  return deps.database.transaction(async (tx) => {
    const known = new Set((await membersOf(tx, person.organisation.id)).map((m) => m.personId))
    input.memberIds.forEach((memberId, i) => {
      if (!known.has(memberId)) refuse('unknown', `memberIds.${i}`, 'This person is not of the organisation.')
    })
    await write(tx)
    return (await crewById(tx, person.organisation.id, id))!
  })
}

function hoursRefused({ hours, breakMinutes }: Input): Refusal[] {
  return hours.flatMap((day, i): Refusal[] => {
    if (!day) return []
    if (day.toMinute <= day.fromMinute)
      return [{ code: 'crew-hours', path: `hours.${i}`, message: `${days[i]} ends before it begins.` }]
    if (day.toMinute - day.fromMinute <= breakMinutes)
      return [{ code: 'crew-hours', path: `hours.${i}`, message: `${days[i]} is no longer than its break.` }]
    return []
  })
}
