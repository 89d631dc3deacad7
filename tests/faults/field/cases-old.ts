import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import type { Ask } from '../server.ts'
import { nextTag, signIn } from './hand.ts'
import { assignment, byOldBatch, bySingleRequests, metaOf, steps, type Tree } from './old-forms.ts'
import type { FieldCase, Play } from './play.ts'

/** A phone two versions behind: its single requests, its batches of the first form, and what its databases hold after an update. */
export const oldPhone: FieldCase = async (play) => {
  const inspector = await play.office.as('inspector')
  const { trees } = (await inspector('GET', '/trees?limit=6')).body as {
    trees: { id: string; tag: string }[]
  }
  const [one, two, three, four] = trees
  await bySingleRequests(play, inspector, one!)
  await byOldBatch(play, inspector, two!)
  await byOldDatabases(play, three!, four!)
  return 3
}
/** The databases of the version before entries: a closed visit on its way and an open one, with photos. Today's program is opened on them. */
async function byOldDatabases(play: Play, closed: Tree, open: Tree) {
  const { phone, office, ledger } = play
  const { page } = phone
  const ask = await office.as('inspector')
  const pictures = play.take(3)
  const visits = [await keptVisit(ask, closed, true), await keptVisit(ask, open, false)]
  const photos = pictures.map((picture, i) => {
    const visit = visits[i < 2 ? 0 : 1]!
    const meta = metaOf(picture, visit.id)
    return {
      row: {
        id: meta.id,
        visitId: visit.id,
        name: `${i}.jpg`,
        meta,
        ownerKind: 'visit',
        ownerId: visit.id,
        sentAt: null,
      },
      base64: readFileSync(picture.path).toString('base64'),
    }
  })
  await page.evaluate(plantInPage, { visits, photos })
  await page.goto(`${office.line.address}/today`)
  await signIn(page, 'inspector')
  await nextTag(page)
  await play.drained()
  const books = await page.evaluate('indexedDB.databases().then((all) => all.map((one) => one.name).join())')
  if (String(books).includes('underbough-')) throw new Error(`The old databases are still there: ${books}`)
  await finishOpen(page, office.line.address, open)
  await play.drained()
  for (const { tag } of [closed, open]) ledger.visits.push({ tag, person: 'inspector' })
  ledger.photos.push(...pictures.map(({ sha256 }) => sha256))
}

/** A visit as that version kept it: the draft, and what it was begun from. */
async function keptVisit(ask: Ask, tree: Tree, toClose: boolean) {
  const get = async (path: string) => (await ask('GET', path)).body
  const whole = await get(`/trees/${tree.id}`)
  const { me } = await get('/session')
  const id = randomUUID()
  return {
    id,
    treeId: tree.id,
    personId: 'inspector',
    draft: {
      id,
      treeId: tree.id,
      personId: 'inspector',
      startedAt: '2026-11-24T09:05:00.000Z',
      screen: 'closing',
      weather: 'dry',
      leafState: 'in-leaf',
      assignment,
      answers: Object.fromEntries(
        steps.map(({ step, result, notSeenBecause }) => [step, { result, notSeenBecause }]),
      ),
      seconds: Object.fromEntries(steps.map(({ step, seconds }) => [step, seconds])),
      findings: [],
      couldNotSee: '',
      rating: null,
      leaveRating: true,
      works: [],
      urgentNote: null,
      endedAt: toClose ? '2026-11-24T09:25:00.000Z' : null,
    },
    ground: { whole, exposure: null, organisation: me.organisation, policy: (await get('/policy')).policy },
    near: [],
    keptAt: Date.parse('2026-11-24T09:25:00.000Z'),
    sentAt: null,
    stopId: null,
    toClose,
  }
}

interface Planted {
  visits: object[]
  photos: { row: object; base64: string }[]
}
/** In the page: makes the database as that version's library did, whose first version is the browser's tenth. */
async function plantInPage({ visits, photos }: Planted) {
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    const asked = indexedDB.open('underbough-visits', 10)
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore('visits', { keyPath: 'id' }).createIndex('treeId', 'treeId')
      asked.result.createObjectStore('photos', { keyPath: 'id' }).createIndex('visitId', 'visitId')
    }
    asked.onsuccess = () => resolve(asked.result)
    asked.onerror = () => reject(asked.error)
  })
  const files = photos.map(
    ({ base64 }) =>
      new Blob([Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))], { type: 'image/jpeg' }),
  )
  await new Promise<void>((resolve, reject) => {
    const all = database.transaction(['visits', 'photos'], 'readwrite')
    all.oncomplete = () => resolve()
    all.onerror = () => reject(all.error)
    for (const visit of visits) all.objectStore('visits').put(visit)
    for (const [i, { row }] of photos.entries()) all.objectStore('photos').put({ ...row, file: files[i] })
  })
  database.close()
}

/** Takes the open visit up where it was left and closes it. */
async function finishOpen(page: Page, address: string, tree: Tree) {
  await page.goto(`${address}/trees/${tree.id}/visit`)
  await page.getByRole('button', { name: /^Close the visit/ }).click({ timeout: 30_000 })
  await page
    .getByText(/The visit is closed|Closed on this (device|phone)/)
    .first()
    .waitFor({ timeout: 30_000 })
}
