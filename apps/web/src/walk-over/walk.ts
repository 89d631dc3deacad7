import type { CivilDate, WalkOverInput } from '@underbough/model'
import { device } from '../keep/device.ts'

/** A walk-over while it is made: which trees of the zone were left out, and what was noted. It lives on the device. */
export interface Walk {
  id: string
  zoneId: string
  on: CivilDate
  /** Trees of the zone that were not looked at. */
  leftOut: string[]
  notes: Record<string, string>
  remark: string
}

export const newWalk = (zoneId: string, on: CivilDate, id: string): Walk => ({
  id,
  zoneId,
  on,
  leftOut: [],
  notes: {},
  remark: '',
})

/** The record of it: every tree listed is looked at unless it was left out; a note stands only where something was written. */
export function walkOverOf(walk: Walk, listed: readonly string[]): WalkOverInput {
  const out = new Set(walk.leftOut)
  const treeIds = listed.filter((id) => !out.has(id))
  return {
    id: walk.id,
    zoneId: walk.zoneId,
    on: walk.on,
    treeIds,
    notes: treeIds.flatMap((treeId) => {
      const note = walk.notes[treeId]?.trim()
      return note ? [{ treeId, note }] : []
    }),
    remark: walk.remark.trim(),
  }
}

const nameOf = (zoneId: string, personId: string) => `walk-over ${zoneId} ${personId}`

/** What this person has open for a zone on this device; null for nothing. */
export async function keptWalk(zoneId: string, personId: string): Promise<Walk | null> {
  const found = await device.remembered.get(nameOf(zoneId, personId))
  return (found?.value as Walk | undefined) ?? null
}
export const keepWalk = (walk: Walk, personId: string) =>
  device.remembered.put({ name: nameOf(walk.zoneId, personId), value: walk })
export const dropWalk = (zoneId: string, personId: string) =>
  device.remembered.delete(nameOf(zoneId, personId))
