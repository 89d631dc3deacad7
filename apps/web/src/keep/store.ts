import type { Contact, Keep, KeptEntry } from '@underbough/field'
import type { VisitInput } from '@underbough/model'
import type { Device } from './device.ts'
import { freshEntry } from './rows.ts'

/** The device as a pass sees it. An answer of the office and what follows from it on the device happen together. */
export function keepOf(device: Device): Keep {
  const remembered = async <T>(name: string) =>
    ((await device.remembered.get(name))?.value as T | undefined) ?? null
  return {
    deviceId: () =>
      device.transaction('rw', device.remembered, async () => {
        const known = await remembered<string>('deviceId')
        if (known) return known
        const made = crypto.randomUUID()
        await device.remembered.put({ name: 'deviceId', value: made })
        return made
      }),
    entries: () => device.entries.toArray(),
    change: (keys, make) =>
      device.transaction('rw', device.entries, device.visits, device.readings, device.borders, async () => {
        for (const entry of await device.entries.where('key').anyOf(keys).toArray()) {
          const next = make(entry)
          if (next) await device.entries.put(next)
          else await device.entries.delete(entry.seq)
          if (next && next.state !== entry.state) await follow(device, next)
        }
      }),
    sizeOf: async (sha256) => (await device.files.get(sha256))?.file.size ?? null,
    piece: async (sha256, from, to) => {
      const kept = await device.files.get(sha256)
      return kept ? new Uint8Array(await kept.file.slice(from, to).arrayBuffer()) : null
    },
    contact: async (): Promise<Contact> => ({
      officeMark: await remembered<number>('officeMark'),
      clockOffsetMs: await remembered<number>('clockOffsetMs'),
      at: await remembered<number>('metAt'),
    }),
    met: async ({ officeMark, clockOffsetMs, at }) => {
      const rows = [
        { name: 'officeMark', value: officeMark },
        { name: 'clockOffsetMs', value: clockOffsetMs },
        { name: 'metAt', value: at },
      ]
      await device.remembered.bulkPut(rows.filter(({ value }) => value !== undefined && value !== null))
    },
  }
}

/** What was taken is no draft any more; what was refused is its person's again, with the reasons at its fields. */
async function follow(device: Device, entry: KeptEntry): Promise<void> {
  const { kind, subjectId, state, refusals } = entry
  if (state === 'sent')
    switch (kind) {
      case 'closing':
        await device.visits.delete(subjectId)
        return
      case 'visit-draft':
        await device.visits.update(subjectId, { sentAt: Date.parse(entry.madeAt) })
        return sayOfDraft(device, subjectId, [])
      case 'reading':
        await device.readings.delete(subjectId)
        return
      case 'borders':
        await device.borders
          .where({ probeId: subjectId })
          .and(({ accepted }) => accepted)
          .delete()
        return
      default:
        return
    }
  if (state !== 'refused') return
  switch (kind) {
    case 'closing':
      await device.visits.update(subjectId, { toClose: false, refusals })
      return openAgain(device, entry)
    case 'visit-draft':
      return sayOfDraft(device, subjectId, refusals)
    case 'reading':
      await device.readings.update(subjectId, { probe: null, refusals })
      return
    case 'borders':
      await device.borders.update(subjectId, { accepted: false, refusals })
      return
    default:
  }
}

/** What is said of a draft does not hide why its closing was refused. */
async function sayOfDraft(device: Device, subjectId: string, refusals: KeptEntry['refusals']): Promise<void> {
  const entries = await device.entries.where({ subjectId }).toArray()
  if (entries.some(({ kind, state }) => kind === 'closing' && state === 'refused')) return
  await device.visits.update(subjectId, { refusals })
}

/** The office gets the visit as a draft, so that its urgent note, readings and photos need not wait until the closing is mended. */
async function openAgain(
  device: Device,
  { body, authorId, subjectId, treeId, label, clockOffsetMs }: KeptEntry,
) {
  const visit: VisitInput = { ...(body as { visit: VisitInput }).visit, endedAt: null }
  await device.entries.add(
    freshEntry('visit-draft', visit, { authorId, subjectId, treeId, label }, clockOffsetMs),
  )
}
