import { type CivilDate, today } from '@underbough/model'
import { useSyncExternalStore } from 'react'
import { device } from '../keep/device.ts'
import { cacheHere, keep, keptUnder } from '../pack/cache.ts'

/** Shown in the place of an answer that has not come by then, where one is kept. */
export const SLOW_MS = 4000

let timeZone = 'UTC'
/** The organisation's zone decides which day “today” is, as at the office. */
export function sayTimeZone(zone: string): void {
  timeZone = zone
}
/** The civil day of an instant at the organisation. */
export const dayAtOffice = (at: Date): CivilDate => today(timeZone, at)

/** Addresses whose last answer was a kept one, with the time it was kept. */
const asOf = new Map<string, Date>()
const listeners = new Set<() => void>()
export function tellAsOf(address: string, at: Date | null): void {
  if (at === null ? !asOf.delete(address) : asOf.get(address)?.getTime() === at.getTime()) return
  if (at) asOf.set(address, at)
  for (const listener of listeners) listener()
}
const listen = (listener: () => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}
/** Since when what an address last answered is known, where that came from this device; null when it came from the office. */
export const useAsOf = (address: string): Date | null =>
  useSyncExternalStore(listen, () => asOf.get(address) ?? null)

/** `/today` without a date is kept under its date: tomorrow it names another day. */
async function nameOf(address: string): Promise<string> {
  if (address !== '/api/today') return address
  const offset = await device.remembered.get('clockOffsetMs').catch(() => undefined)
  return `/api/today?date=${today(timeZone, new Date(Date.now() + Number(offset?.value ?? 0)))}`
}

/** An answer that this device keeps for the person here. `renew` puts a newer one in its place. */
export interface KeptAnswer {
  at: Date
  read(): Promise<unknown>
  renew(answer: unknown): Promise<void>
}
/** What is kept under an address of the API; null where nothing is, or where the browser keeps nothing. */
export async function keptAnswer(address: string): Promise<KeptAnswer | null> {
  try {
    const cache = await cacheHere()
    if (!cache) return null
    const name = await nameOf(address)
    const kept = await keptUnder(cache, name)
    if (!kept) return null
    return {
      at: kept.at,
      read: () => kept.response.json(),
      renew: async (answer) => {
        const date = (answer as { date?: unknown } | null)?.date
        if (name !== address && !name.endsWith(`=${date}`)) return
        await keep(cache, name, JSON.stringify(answer), 'application/json')
      },
    }
  } catch {
    return null
  }
}
