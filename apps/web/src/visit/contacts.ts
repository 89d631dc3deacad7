import type { Site } from '@underbough/model'
import { useEffect } from 'react'
import { useSites } from '../api/index.ts'
import { device, useLive } from '../keep/index.ts'
import { usePerson } from '../shell/index.ts'

/** A site with the people to call there. */
export type Reachable = Pick<Site, 'id' | 'name' | 'contacts'>

/**
 * The people to call, by site; null while this device never had them. Kept on the device whenever they are known, so that a visit taken up
 * again without signal still has them.
 */
export function useContacts(): readonly Reachable[] | null {
  const { organisation } = usePerson()
  const name = `contacts ${organisation.id}`
  const { data } = useSites()
  const kept = useLive<readonly Reachable[] | null>(
    name,
    async () => ((await device.remembered.get(name))?.value as readonly Reachable[] | undefined) ?? null,
    null,
  )
  useEffect(() => {
    if (!data) return
    const value = data.map((site) => ({ id: site.id, name: site.name, contacts: site.contacts }))
    // A browser that keeps nothing still shows them while the page stands.
    device.remembered.put({ name, value }).catch(() => {})
  }, [data, name])
  return data ?? kept
}
