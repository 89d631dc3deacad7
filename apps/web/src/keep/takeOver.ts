import Dexie, { type Table } from 'dexie'
import type { BordersRow, KeptFile, ReadingRow, VisitRow } from './rows.ts'
import { freshEntry } from './rows.ts'

/**
 * Before entries, visits and readings stood in databases of their own. What they hold comes into this one, once, with every byte: rows as
 * they are (what of them must go to the office is entered at the start of the program), photos as entries. The old databases go only
 * after all of it is stored here.
 */
const visitsName = 'underbough-visits'
const readingsName = 'underbough-readings'
const doneName = 'takenOver'

/** Stands for the author of a photo whose visit is gone from the device; whoever signs in next sends it, as they always have. */
export const nobodyKnown = 'not known'

interface OldPhoto {
  id: string
  visitId?: string
  probeId?: string
  name: string
  file: Blob
  meta: { ownerKind: string; ownerId: string; sha256: string; caption: string }
  sentAt?: number | null
}
interface Old {
  visits: VisitRow[]
  readings: ReadingRow[]
  borders: BordersRow[]
  photos: OldPhoto[]
}

/** Called while `db` opens; what fails is left where it is and tried at the next start. */
export async function takeOver(db: Dexie): Promise<void> {
  try {
    if (!(await db.table('remembered').get(doneName))) {
      const old = await readOld()
      await db.transaction('rw', ['visits', 'readings', 'borders', 'files', 'entries', 'remembered'], () =>
        store(db, old),
      )
    }
    // Another window may still hold them open; nothing waits for that.
    for (const name of [visitsName, readingsName])
      if (await Dexie.exists(name)) void Dexie.delete(name).catch(() => {})
  } catch (error) {
    console.error('What an older version kept could not be taken over; it is still there.', error)
  }
}

async function readOld(): Promise<Old> {
  const [visits, visitPhotos] = await tablesOf<[VisitRow, OldPhoto]>(visitsName, ['visits', 'photos'])
  const [readings, borders, readingPhotos] = await tablesOf<[ReadingRow, BordersRow, OldPhoto]>(
    readingsName,
    ['readings', 'borders', 'photos'],
  )
  return { visits, readings, borders, photos: [...visitPhotos, ...readingPhotos] }
}

/** All rows of tables of a database that may not exist; read as it stands, without naming its version. */
async function tablesOf<T extends unknown[]>(
  name: string,
  tables: string[],
): Promise<{ [K in keyof T]: T[K][] }> {
  const none = tables.map(() => []) as unknown as { [K in keyof T]: T[K][] }
  if (!(await Dexie.exists(name))) return none
  const old = await new Dexie(name).open()
  try {
    const rows = tables.map((table) =>
      old.tables.some((one) => one.name === table) ? old.table(table).toArray() : [],
    )
    return (await Promise.all(rows)) as unknown as { [K in keyof T]: T[K][] }
  } finally {
    old.close()
  }
}

async function store(db: Dexie, old: Old): Promise<void> {
  const { visits, readings, borders, photos } = old
  await db.table('visits').bulkPut(visits.map((visit) => ({ ...visit, refusals: visit.refusals ?? [] })))
  await db.table('readings').bulkPut(readings)
  await db.table('borders').bulkPut(borders)
  const people = new Set([...visits, ...readings].map(({ personId }) => personId))
  const anyone = people.size === 1 ? [...people][0]! : nobodyKnown
  for (const photo of photos.filter(({ sentAt }) => sentAt === null || sentAt === undefined)) {
    const { id, name, file, meta } = photo
    const owner = [...visits, ...readings].find((row) => row.id === (photo.visitId ?? photo.probeId))
    await (db.table('files') as Table<KeptFile>).put({ sha256: meta.sha256, name, file, keptAt: Date.now() })
    const body = { ...meta, bytes: file.size, copyOf: null, copyKind: null }
    await db.table('entries').add(
      freshEntry(
        'photo',
        body,
        {
          authorId: owner?.personId ?? anyone,
          subjectId: id,
          treeId: owner?.treeId ?? null,
          label: `Photo: ${meta.caption || name}`,
        },
        null,
      ),
    )
  }
  await db.table('remembered').put({ name: doneName, value: Date.now() })
}
