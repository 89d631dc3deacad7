import { isDeepStrictEqual } from 'node:util'
import type { Borders, BordersInput, ProbeInput, Refusal } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { wrongWithBorders, wrongWithReading } from './check.ts'
import * as queries from './queries.ts'

/**
 * Keeps a reading of a visit, closed or not: a laboratory answers weeks later. The same one twice is stored once; another one of its
 * identifier is refused and the first stays.
 */
export async function keepProbe(deps: Deps, person: Person, input: ProbeInput): Promise<void> {
  const organisationId = person.organisation.id
  leaveWith(wrongWithReading(input))
  await deps.database.transaction(async (tx) => {
    if (!(await queries.visitExists(tx, organisationId, input.visitId)))
      refuse('unknown', 'visitId', 'The visit of this reading is not here yet.')
    const coreId = input.kind === 'fracture-test' ? input.reading.ofProbeId : null
    if (coreId && (await queries.kindOf(tx, organisationId, coreId)) !== 'core')
      refuse('unknown', 'reading.ofProbeId', 'The core this was made on is not here yet.')
    const stored = await queries.insertProbe(tx, organisationId, input)
    if (!same(stored, input)) changedAfter(stored)
  })
}

/** Adds borders that the person asking stands by; the ones before stay. */
export async function acceptBorders(
  deps: Deps,
  person: Person,
  probeId: string,
  input: BordersInput,
): Promise<Borders> {
  const organisationId = person.organisation.id
  return deps.database.transaction(async (tx) => {
    const probe = await queries.probeInputById(tx, organisationId, probeId)
    if (!probe) refuse('unknown', 'id', 'There is no such reading.')
    if (probe.kind !== 'drill-trace')
      refuse(
        'malformed',
        'id',
        'Only a drill’s trace has borders to accept; this reading is of another kind.',
        {
          value: probe.kind,
        },
      )
    leaveWith(wrongWithBorders(input, probe.reading))
    const stored = await queries.insertBorders(tx, organisationId, probeId, {
      ...input,
      personId: person.personId,
      at: deps.now().toISOString(),
    })
    const { personId: _, personName: __, at: ___, ...content } = stored.borders
    if (stored.probeId !== probeId || !same(content, input)) changedAfter(stored.borders)
    return stored.borders
  })
}

/** Equal as JSON holds them, whatever the order of their members. */
const same = (a: unknown, b: unknown) => isDeepStrictEqual(asJson(a), asJson(b))
const asJson = (value: unknown) => JSON.parse(JSON.stringify(value)) as unknown

function leaveWith(wrong: Refusal[]) {
  if (wrong.length > 0) throw new Refused(wrong)
}

function changedAfter(current: object): never {
  throw new Refused(
    [
      {
        code: 'conflict',
        path: 'id',
        message:
          'Another entry of this identifier is stored. What was entered is never edited: make a new one.',
      },
    ],
    { current },
  )
}
