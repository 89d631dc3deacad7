import { createHash, randomUUID } from 'node:crypto'
import { type Database, tables } from '@underbough/db'
import { today } from '@underbough/model'
import { asc, eq, sql } from 'drizzle-orm'
import { type Account, type Copy, type Ground, prepare } from '../ground.ts'
import { type Ask, freePort, type Server, startServer } from '../server.ts'
import { type Line, openLine } from './line.ts'

/** Stops of the second crew: enough to hand some over and to stand in for a second person. */
const SECOND_STOPS = 4
const day = { fromMinute: 420, toMinute: 1020 }

/** A small inventory with today's day sent to two crews: the inspector's with so many stops, and the second's with a few. */
export const prepareField = (kind: Database['kind'], stops: number): Promise<Ground> =>
  prepare(kind, stops + SECOND_STOPS + 6, (database, organisationId) =>
    sendDay(database, organisationId, stops),
  )

async function sendDay({ db }: Database, organisationId: string, stops: number) {
  const trees = await db
    .select({ id: tables.tree.id, at: sql<string>`ST_AsGeoJSON(${tables.tree.position})` })
    .from(tables.tree)
    .orderBy(asc(tables.tree.tag))
  // Level 1 for everybody: a day of limited looks is the longest list of visits.
  await db.update(tables.treeState).set({ dueLevel: 1 })
  const planId = randomUUID()
  await db
    .insert(tables.plan)
    .values({ organisationId, id: planId, number: 1, state: 'published', asked: {}, madeBy: 'officer' })
  for (const [letter, member, from, count] of [
    ['A', 'inspector', 0, stops],
    ['B', 'second', stops, SECOND_STOPS],
  ] as const) {
    const start = JSON.parse(trees[from]!.at).coordinates as [number, number]
    const crewId = randomUUID()
    const daySheetId = randomUUID()
    await db.insert(tables.crew).values({
      organisationId,
      id: crewId,
      name: `Crew ${letter}`,
      letter,
      level: 2,
      equipment: [],
      memberIds: [member],
      start,
      end: start,
      hours: [day, day, day, day, day, day, day],
      breakMinutes: 30,
      daysOff: [],
    })
    await db.insert(tables.daySheet).values({
      organisationId,
      id: daySheetId,
      planId,
      crewId,
      date: today('Atlantic/St_Helena', new Date()),
      startMinute: day.fromMinute,
      endMinute: day.fromMinute + 10 * count,
      travelMinutes: count,
      travelM: 8 * count,
      serviceMinutes: 9 * count,
      publishedAt: new Date().toISOString(),
    })
    await db.insert(tables.stop).values(
      trees.slice(from, from + count).map((tree, i) => ({
        organisationId,
        id: randomUUID(),
        daySheetId,
        treeId: tree.id,
        order: i + 1,
        level: 1 as const,
        arriveMinute: day.fromMinute + 10 * i,
        startMinute: day.fromMinute + 10 * i,
        leaveMinute: day.fromMinute + 10 * i + 9,
        travelM: 8,
      })),
    )
  }
}

/** The office of one round: its database, a server that comes and goes, and the line that stays. */
export interface Office {
  line: Line
  copy: Copy
  server: Server
  as(account: Account): Promise<Ask>
  /** Starts a server where the last one stood. */
  restart(): Promise<void>
  /** Ends the server without a word and starts another one on what is left. */
  killAndRestart(): Promise<void>
  /** With the server down, and back up after: something done to the database itself. */
  whileDown<T>(work: (database: Database) => Promise<T>): Promise<T>
  /** Stops the server and reads what is on record. */
  books(): Promise<Books>
  remove(): Promise<void>
}

export async function openOffice(ground: Ground): Promise<Office> {
  const copy = await ground.copy()
  const port = await freePort()
  const line = await openLine(port)
  const start = () => startServer(copy.env, port)
  const self: Office = {
    line,
    copy,
    server: await start(),
    as: (account) => self.server.as(account),
    async restart() {
      self.server = await start()
    },
    async killAndRestart() {
      await self.server.kill()
      await copy.age()
      self.server = await start()
    },
    async whileDown(work) {
      await self.server.stop()
      const database = await copy.open()
      try {
        return await work(database)
      } finally {
        await database.close()
        self.server = await start()
      }
    },
    async books() {
      await self.server.stop()
      const database = await copy.open()
      try {
        return await readBooks(database)
      } finally {
        await database.close()
      }
    },
    async remove() {
      await line.close()
      await self.server.kill()
      await copy.remove()
    },
  }
  return self
}

/** What the office has on record, as lists in which a double would stand twice. */
export interface Books {
  /** Trees by their closed visits, with who closed each. */
  visits: { treeTag: string; personId: string; steps: number }[]
  drafts: number
  /** Digests of original photos, one for each photo on record. */
  photos: string[]
  /** Digests of copies for screens. */
  copies: string[]
  /** Digests worked out afresh over the stored bytes. */
  bytes: Set<string>
  /** Tags of the trees that bear an urgent note. */
  urgent: string[]
  /** Stops that have an end: tag, and how. */
  ended: { tag: string; how: 'done' | 'skipped' }[]
  trees: string[]
  /** Entries taken, by author and sender. */
  received: { kind: string; authorId: string; sentBy: string }[]
}

async function readBooks({ db }: Database): Promise<Books> {
  const { photo, photoBytes, receivedEntry, stop, tree, urgentNote, visit } = tables
  const visits = await db
    .select({ treeTag: tree.tag, personId: visit.personId, stage: visit.stage, steps: visit.steps })
    .from(visit)
    .innerJoin(tree, eq(tree.id, visit.treeId))
  const photos = await db.select({ sha256: photo.sha256, copyOf: photo.copyOf }).from(photo)
  const stored = await db.select({ content: photoBytes.content }).from(photoBytes)
  const notes = await db
    .select({ tag: tree.tag })
    .from(urgentNote)
    .innerJoin(tree, eq(tree.id, urgentNote.treeId))
  const stops = await db
    .select({ tag: tree.tag, done: stop.doneVisitId, skipped: stop.skippedBecause })
    .from(stop)
    .innerJoin(tree, eq(tree.id, stop.treeId))
  const { kind, authorId, sentBy } = receivedEntry
  return {
    visits: visits
      .filter(({ stage }) => stage === 'closed')
      .map(({ treeTag, personId, steps }) => ({ treeTag, personId, steps: steps.length })),
    drafts: visits.filter(({ stage }) => stage === 'draft').length,
    photos: photos.filter(({ copyOf }) => !copyOf).map(({ sha256 }) => sha256),
    copies: photos.filter(({ copyOf }) => copyOf).map(({ sha256 }) => sha256),
    bytes: new Set(stored.map(({ content }) => createHash('sha256').update(content).digest('hex'))),
    urgent: notes.map(({ tag }) => tag),
    ended: stops.flatMap(({ tag, done, skipped }) =>
      done ? { tag, how: 'done' as const } : skipped ? { tag, how: 'skipped' as const } : [],
    ),
    trees: (await db.select({ tag: tree.tag }).from(tree)).map(({ tag }) => tag),
    received: await db.select({ kind, authorId, sentBy }).from(receivedEntry),
  }
}
