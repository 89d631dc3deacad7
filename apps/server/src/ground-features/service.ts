import { randomUUID } from 'node:crypto'
import type { GroundFeature, groundFeatureInput } from '@underbough/model'
import type { z } from 'zod'
import { checkedAreaM2 } from '../geometry/service.ts'
import { conflict } from '../http/conflict.ts'
import type { Deps, Person } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { checkSite } from '../sites/service.ts'
import {
  type Bounds,
  deleteGroundFeature,
  groundFeatureById,
  groundFeatures,
  insertGroundFeature,
  updateGroundFeature,
} from './queries.ts'

type Input = z.infer<typeof groundFeatureInput>

/** More than a person can look at; whoever needs all of them reads the tiles. */
const LIST_LIMIT = 20_000

export async function listGroundFeatures(deps: Deps, person: Person, bounds: Bounds | null) {
  const found = await groundFeatures(deps.database.db, person.organisation.id, bounds, LIST_LIMIT)
  return {
    type: 'FeatureCollection' as const,
    features: found.map(({ geometry, ...properties }) => ({
      type: 'Feature' as const,
      id: properties.id,
      geometry,
      properties,
    })),
  }
}

export async function addGroundFeature(deps: Deps, person: Person, input: Input): Promise<GroundFeature> {
  const id = randomUUID()
  return store(deps, person, id, input, (tx) => insertGroundFeature(tx, person.organisation.id, id, input))
}

export async function changeGroundFeature(
  deps: Deps,
  person: Person,
  id: string,
  { version, ...input }: Input & { version: number },
): Promise<GroundFeature> {
  return store(deps, person, id, input, async (tx) => {
    const stored = await groundFeatureById(tx, person.organisation.id, id)
    if (!stored) refuse('unknown', 'id', 'There is no such ground feature.')
    if (!(await updateGroundFeature(tx, person.organisation.id, id, version, input))) conflict(stored)
  })
}

async function store(
  deps: Deps,
  person: Person,
  id: string,
  input: Input,
  write: (tx: Parameters<typeof groundFeatureById>[0]) => Promise<void>,
): Promise<GroundFeature> {
  return deps.database.transaction(async (tx) => {
    await checkSite(tx, person.organisation.id, input.siteId)
    await checkedAreaM2(tx, input.geometry)
    await write(tx)
    return (await groundFeatureById(tx, person.organisation.id, id))!
  })
}

export async function removeGroundFeature(deps: Deps, person: Person, id: string) {
  await deps.database.transaction(async (tx) => {
    if (!(await deleteGroundFeature(tx, person.organisation.id, id)))
      refuse('unknown', 'id', 'There is no such ground feature.')
  })
}
