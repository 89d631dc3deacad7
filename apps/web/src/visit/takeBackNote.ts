import { device, whileNothingGoes } from '../keep/index.ts'
import { movePhotos } from '../photos/index.ts'

/**
 * Takes an urgent note that was never sent off this device; its photos go on as the visit's. False where the office has it, or it is on its
 * way: then it stands until the office has acknowledged it.
 */
export async function takeBackNote(noteId: string, visitId: string): Promise<boolean> {
  const isGone = await whileNothingGoes(() =>
    device.transaction('rw', device.entries, async () => {
      const its = await device.entries.where({ subjectId: noteId }).toArray()
      if (its.some(({ kind, state }) => kind === 'urgent-note' && state === 'sent')) return false
      await device.entries.bulkDelete(its.filter(({ kind }) => kind === 'urgent-note').map(({ seq }) => seq))
      return true
    }),
  )
  if (isGone) await movePhotos(noteId, { ownerKind: 'visit', ownerId: visitId })
  return isGone
}
