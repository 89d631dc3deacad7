import { shortOfRoom } from '@underbough/field'
import { device } from './device.ts'
import { tellKeep } from './state.ts'

/** Asks the browser not to clear what this device keeps, and remembers what it said. A browser may say no until the program is used more. */
export async function askToPersist(): Promise<void> {
  const storage = navigator.storage as StorageManager | undefined
  const persisted = (await storage?.persisted?.()) || (await storage?.persist?.()) || false
  tellKeep({ persisted })
  await device.remembered.put({ name: 'persisted', value: persisted })
}

/** How much room is left; null where the browser does not say. */
export async function measureRoom(): Promise<{ isShort: boolean } | null> {
  const storage = navigator.storage as StorageManager | undefined
  const { usage, quota } = (await storage?.estimate?.()) ?? {}
  if (usage === undefined || !quota) return null
  const room = { usageBytes: usage, quotaBytes: quota, isShort: shortOfRoom(usage, quota) }
  tellKeep({ room })
  return room
}
