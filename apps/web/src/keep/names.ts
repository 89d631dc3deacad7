import { device } from './device.ts'

const nameOf = (personId: string) => `name of ${personId}`

/** Whose entries a device keeps can be said only by people who were here. */
export async function rememberName(personId: string, name: string): Promise<void> {
  await device.remembered.put({ name: nameOf(personId), value: name })
}
export async function namesOf(personIds: readonly string[]): Promise<Record<string, string>> {
  const rows = await device.remembered.bulkGet(personIds.map(nameOf))
  return Object.fromEntries(
    personIds.map((personId, i) => [personId, (rows[i]?.value as string | undefined) ?? 'somebody else']),
  )
}
