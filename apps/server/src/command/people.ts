import { randomBytes, randomUUID } from 'node:crypto'
import { parseArgs } from 'node:util'
import { member, organisation, roles } from '@underbough/model'
import { Refused, refusalsOf, refuse } from '../http/problem.ts'
import { addAccount } from '../session/auth.ts'
import { actor, type Desk, Usage, withDeps } from './desk.ts'
import { emailTaken, insertMember, insertOrganisation } from './queries.ts'

const text = { type: 'string' } as const

/** A new organisation; its people follow with `add-person`. */
export async function found(rest: string[], desk: Desk): Promise<number> {
  const { values, positionals } = parseArgs({
    args: rest,
    allowPositionals: true,
    options: { 'time-zone': text, hemisphere: text, 'measured-at': text, units: text },
  })
  const read = organisation.safeParse({
    id: randomUUID(),
    name: positionals[0],
    timeZone: values['time-zone'],
    hemisphere: values.hemisphere,
    stemHeightM: Number(values['measured-at'] ?? 1.3),
    units: values.units ?? 'metric',
    failureTimeFrameYears: 3,
  })
  if (positionals.length !== 1 || !values['time-zone'] || !values.hemisphere)
    throw new Usage('Say the name, --time-zone and --hemisphere.')
  if (!read.success) throw new Refused(refusalsOf(read.error))
  if (!isTimeZone(read.data.timeZone)) throw new Usage(`There is no time zone “${read.data.timeZone}”.`)
  await withDeps(desk, (deps) => deps.database.transaction((tx) => insertOrganisation(tx, read.data)))
  desk.print(`${read.data.name} is founded. Add its people with: npm run underbough -- add-person …`)
  return 0
}

/** A person who may sign in. The password is made here and shown once. */
export async function addPerson(rest: string[], desk: Desk): Promise<number> {
  const { values } = parseArgs({
    args: rest,
    options: {
      name: text,
      email: text,
      role: text,
      qualification: text,
      'expires-on': text,
      organisation: text,
    },
  })
  if (!values.name || !values.email || !values.role)
    throw new Usage(`Say --name, --email and --role (${roles.join(', ')}).`)
  const read = member.safeParse({
    personId: randomUUID(),
    name: values.name,
    email: values.email,
    role: values.role,
    qualification: values.qualification ?? null,
    qualificationExpiresOn: values['expires-on'] ?? null,
  })
  if (!read.success) throw new Refused(refusalsOf(read.error))
  const password = randomBytes(12).toString('base64url')
  await withDeps(desk, async (deps) => {
    const { organisation: of } = await actor(deps, values.organisation)
    const { personId: id, name, email } = read.data
    if (await emailTaken(deps.database.db, email))
      refuse('conflict', 'email', `${email} belongs to somebody already.`)
    await addAccount(deps.database, { id, name, email, password })
    await insertMember(deps.database.db, of.id, read.data)
  })
  desk.print(
    `${read.data.name} may sign in as ${read.data.email} (${read.data.role}). Password, shown once: ${password}`,
  )
  return 0
}

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name })
    return true
  } catch {
    return false
  }
}
