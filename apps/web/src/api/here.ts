import { device } from '../keep/device.ts'
import { clearKept, sayWho } from '../pack/cache.ts'
import { ask } from './client.ts'
import { SLOW_MS, sayTimeZone } from './kept.ts'
import { type DemoAccount, isSilence, noSignal, Refused } from './problem.ts'
import type { Me } from './types.ts'

/**
 * Who is at this device, and how the office stands to them. `unreached`: the office is silent, the device remembers who was here
 * last. `signed-out`: the office asks them to sign in again; what is kept here stays usable until they do.
 */
export interface Here {
  me: Me
  standing: 'signed-in' | 'unreached' | 'signed-out'
  demo: readonly DemoAccount[]
}

const personName = 'person'
const owedName = 'signOutOwed'

const remembered = async (name: string): Promise<unknown> =>
  (await device.remembered.get(name).catch(() => undefined))?.value
const lastHere = () => remembered(personName) as Promise<Me | undefined>

/** Asks the office who is signed in; where it does not say, the person whom this device remembers. Refused where there is neither. */
export async function whoIsHere(): Promise<Here> {
  if (await remembered(owedName)) await paySignOut()
  const last = await lastHere()
  try {
    const { me } = await ask<{ me: Me }>('GET', '/api/session', undefined, patience(last))
    await remember(me)
    return { me, standing: 'signed-in', demo: [] }
  } catch (error) {
    if (!last) throw error
    await remember(last)
    if (error instanceof Refused && error.status === 401)
      return { me: last, standing: 'signed-out', demo: error.demo }
    if (isSilence(error) || isTooSlow(error)) return { me: last, standing: 'unreached', demo: [] }
    throw error
  }
}
const patience = (last: Me | undefined) => (last ? AbortSignal.timeout(SLOW_MS) : undefined)
const isTooSlow = (error: unknown) => error instanceof DOMException && error.name === 'TimeoutError'

/** The person stays known on this device until they sign out on it. Another one's fetched answers are cleared. */
export async function remember(me: Me): Promise<void> {
  sayTimeZone(me.organisation.timeZone)
  const last = await lastHere()
  if (last && last.personId !== me.personId) await clearKept(last.personId)
  // A browser that keeps nothing still serves the person who has just signed in.
  await device.remembered.put({ name: personName, value: me }).catch(() => {})
  await device.remembered.delete(owedName).catch(() => {})
  await sayWho(me.personId).catch(() => {})
}

/** What a person entered here that the office has not got. */
export const waitingOf = (personId: string): Promise<number> =>
  device.entries
    .where({ authorId: personId })
    .filter((entry) => entry.state !== 'sent')
    .count()

/**
 * Signs out on this device: what was fetched for the person is cleared, what waits stays under its author. Without signal the
 * office is told before anybody is let in again.
 */
export async function signOutHere(personId: string): Promise<void> {
  await ask('DELETE', '/api/session').catch(async (error: unknown) => {
    if (!isSilence(error)) throw error
    await device.remembered.put({ name: owedName, value: true })
  })
  await clearKept(personId)
  await sayWho(null)
  await device.remembered.where('name').startsWith(packPrefix(personId)).delete()
  await device.remembered.delete(personName)
}
/** Names of the records of a person's day packs among what is remembered. */
export const packPrefix = (personId: string) => `pack:${personId}:`

async function paySignOut(): Promise<void> {
  await ask('DELETE', '/api/session').catch((error: unknown) => {
    if (isSilence(error)) throw noSignal()
  })
  await device.remembered.delete(owedName)
}
