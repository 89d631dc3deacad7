import { addDays, type CivilDate } from '@underbough/model'
import { packPrefix } from '../api/index.ts'
import { device } from '../keep/device.ts'
import { cacheOf, keptNameOf } from './cache.ts'
import type { PackFile } from './fetch.ts'

/** What this device knows of a day it keeps. */
export interface PackRecord {
  date: CivilDate
  /** The office's name for the state of the day when it was fetched. */
  tag: string
  begunAt: string
  /** When all of it had come, or all that would; null while it is being fetched. */
  keptAt: string | null
  bytes: number
  trees: number
  names: string[]
  failed: PackFile[]
}

/** A day is cleared from the device this long after it. */
const KEEP_DAYS = 7

const nameOf = (personId: string, date: CivilDate) => `${packPrefix(personId)}${date}`

export async function recordOf(personId: string, date: CivilDate): Promise<PackRecord | null> {
  const found = await device.remembered.get(nameOf(personId, date))
  return (found?.value as PackRecord | undefined) ?? null
}
export async function recordsOf(personId: string): Promise<PackRecord[]> {
  const found = await device.remembered.where('name').startsWith(packPrefix(personId)).toArray()
  return found.map((one) => one.value as PackRecord)
}
export const keepRecord = (personId: string, record: PackRecord) =>
  device.remembered.put({ name: nameOf(personId, record.date), value: record })

/** Clears a day from this device; what another kept day needs as well stays. */
export async function dropDay(personId: string, date: CivilDate): Promise<void> {
  const records = await recordsOf(personId)
  const going = records.find((record) => record.date === date)
  if (!going) return
  const staying = new Set(records.filter((record) => record !== going).flatMap((record) => record.names))
  await device.remembered.delete(nameOf(personId, date))
  const cache = await cacheOf(personId)
  for (const name of going.names) if (!staying.has(name)) await cache.delete(name)
}

/** Clears the days that are over for a week. */
export async function dropOldDays(personId: string, today: CivilDate): Promise<void> {
  const last = addDays(today, -KEEP_DAYS)
  for (const record of await recordsOf(personId)) if (record.date < last) await dropDay(personId, record.date)
}

/** The names under which files are kept. */
export const namesOf = (files: readonly PackFile[]): string[] => files.map((file) => keptNameOf(file.at).name)
