import { distanceToZoneM } from '@underbough/exposure'
import { type OccupancyWord, type Organisation, occupancyWords, rank, type Tree } from '@underbough/model'
import {
  type DueDecision,
  dueInputOf,
  dueOf,
  rateTree,
  recordsWith,
  type VisitMade,
} from '@underbough/rating'
import type { ZoneKept } from './around.ts'
import { closingOf } from './closing.ts'
import type { Draft, Ground } from './draft.ts'

/** Beyond this a device's clock is put right by the office's, as the office does. */
const CLOCK_OFF_MS = 120_000

/** The visit as it would be on record if it were closed now. A rating whose words are still open counts as none. */
export function madeOf(draft: Draft, now: Date, clockOffsetMs: number | null): VisitMade {
  const { visit, rating, works } = closingOf(draft)
  const offset = Math.abs(clockOffsetMs ?? 0) > CLOCK_OFF_MS ? clockOffsetMs! : 0
  const right = (instant: string | Date) => new Date(new Date(instant).getTime() + offset).toISOString()
  const rated = rating && rateTree(rating)
  return {
    visit: { id: visit.id, level: visit.level, startedAt: right(visit.startedAt) },
    rating: rating && rated?.ok ? { ...rating, ...rated.value } : null,
    ratedAt: right(visit.endedAt ?? now),
    works,
  }
}

/** When the tree is due by what this device knows. `unknown`: the policy or the tree's records are not on this device. */
export type Reckoned = { known: false } | { known: true; due: DueDecision | null }

/**
 * When the tree will be due once this visit is closed, and why: by the packages, the records and the policy the office goes by, before it
 * has answered.
 */
export function dueHere(ground: Reckoning, draft: Draft, now: Date, clockOffsetMs: number | null): Reckoned {
  const { whole, policy, organisation, wordOf = {} } = ground
  if (!policy || !whole.dueBasis || !whole.walkOvers) return { known: false }
  const records = recordsWith(
    whole,
    madeOf(draft, now, clockOffsetMs),
    organisation,
    (zoneId) => wordOf[zoneId] ?? null,
  )
  return { known: true, due: dueOf(dueInputOf(records), policy) }
}

/** When a tree is due that only this device knows, by the office's policy; null where that is not on this device. */
export function dueOfFound({ whole, policy, organisation, wordOf = {} }: Reckoning): DueDecision | null {
  if (!policy) return null
  return dueOf(dueInputOf(recordsWith(whole, null, organisation, (zoneId) => wordOf[zoneId] ?? null)), policy)
}
type Reckoning = Ground & { organisation: Pick<Organisation, 'hemisphere' | 'timeZone'> }

/** The office takes this for the height of a tree nobody measured, metres. */
const UNKNOWN_HEIGHT_M = 15
/** Use of the heaviest zone within the tree's own height, as the office reads it; null for none. */
export function zoneUseAt(
  tree: Pick<Tree, 'position' | 'heightM'>,
  zones: readonly ZoneKept[],
): OccupancyWord | null {
  const within = tree.heightM ?? UNKNOWN_HEIGHT_M
  const words = zones
    .filter((zone) => distanceToZoneM(tree.position, zone.geometry) <= within)
    .map((zone) => rank(occupancyWords, zone.occupancyWord))
  return words.length > 0 ? occupancyWords[Math.max(...words)]! : null
}
