import type { Locator, Page } from 'playwright-core'
import { type Account, emailOf, password } from '../ground.ts'
import type { Ledger } from './ledger.ts'
import type { Picture } from './pictures.ts'

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const seen = (one: Locator) =>
  one
    .first()
    .isVisible()
    .catch(() => false)
/** A press by hand finds its button within this, on a busy machine. */
const PRESS_MS = 20_000
const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first()

/** Signs in at the door, or in the dialog that asks to send. */
export async function signIn(page: Page, account: Account): Promise<void> {
  await page.getByLabel('E-mail address').fill(emailOf(account), { timeout: PRESS_MS })
  await page.getByLabel('Password').fill(password)
  // In the dialog the page behind it has a button of that name too.
  await page
    .locator('form')
    .filter({ has: page.getByLabel('Password') })
    .getByRole('button', { name: 'Sign in' })
    .click({ timeout: PRESS_MS })
  await page.getByLabel('Password').waitFor({ state: 'detached', timeout: PRESS_MS })
}

/** The tag of the tree that the day offers next; null when every stop has an end. */
export async function nextTag(page: Page): Promise<string | null> {
  const start = button(page, /^Start at /)
  const over = page.getByText('All stops of this day have an end.')
  await start.or(over).first().waitFor({ timeout: PRESS_MS })
  if (!(await seen(start))) return null
  return ((await start.textContent()) ?? '').replace(/^Start at /, '').trim()
}

/**
 * Visits the next stop by taps and writes into the ledger what the screen then shows as kept. Answers every screen as somebody does
 * who found nothing, and takes the photos where the visit offers them.
 */
export async function visitNext(page: Page, ledger: Ledger, pictures: readonly Picture[]): Promise<string> {
  const tag = await startNext(page)
  await goThrough(page, pictures)
  ledger.visits.push({ tag, person: ledger.person })
  ledger.photos.push(...pictures.map(({ sha256 }) => sha256))
  return tag
}

/** Presses the start of the next stop; answers the tag of the tree, which must be the one that the day offered. */
async function startNext(page: Page): Promise<string> {
  const offered = await nextTag(page)
  if (!offered) throw new Error('The day has no stop left.')
  await button(page, /^Start at /).click()
  const line = await page.locator('.visit-line').textContent({ timeout: PRESS_MS })
  if (!line?.startsWith(`${offered} `)) throw new Error(`The day offered ${offered}, and this came: ${line}`)
  return offered
}

/** Opens the next stop’s visit, up to where its answers and photos are. */
export async function openNext(page: Page): Promise<string> {
  const tag = await startNext(page)
  await button(page, /^Begin /).click({ timeout: PRESS_MS })
  return tag
}

/** Goes from where a visit stands to its end. */
export async function goThrough(page: Page, pictures: readonly Picture[]): Promise<void> {
  let taken = pictures.length === 0
  const closed = page.getByRole('heading', { name: /The visit is closed|Closed on this (device|phone)/ })
  const said = page.getByText(/^Closed on this (device|phone)/)
  for (let press = 0, end = Date.now() + 120_000; press < 80; await wait(40)) {
    if (page.isClosed()) throw new Error('The phone was killed.')
    if (Date.now() > end) throw new Error(`The visit went no further: ${await headings(page)}`)
    if ((await seen(closed)) || (await seen(said))) return
    if (!taken && (await page.locator('input[type=file]').count()) > 0) {
      await takePhotos(page, pictures)
      taken = true
      continue
    }
    const go = await firstSeen(page, [
      /^All seen, nothing found/,
      /^The other \d seen/,
      /^Close the visit/,
      /^Seen, nothing found/,
      // A screen that was left before it stood: back to it.
      /^Go there/,
      /^Next: (?!.* open$)/,
      /^Begin /,
      /^Read it back/,
    ])
    if (!go) continue
    press++
    await go.click({ timeout: 2000 }).catch(() => {})
  }
  throw new Error(`The visit did not close: ${await headings(page)}`)
}

/** The first of these that can be pressed and is not chosen already. */
async function firstSeen(page: Page, names: RegExp[]): Promise<Locator | null> {
  for (const name of names) {
    const one = page.getByRole('button', { name }).or(page.getByRole('radio', { name })).first()
    if (!(await seen(one))) continue
    const chosen = (await one.getAttribute('aria-pressed')) ?? (await one.getAttribute('aria-checked'))
    if (chosen !== 'true' && (await one.isEnabled())) return one
  }
  return null
}

/** Chooses the files as a camera hands them over, and waits until each is shown as kept. */
export async function takePhotos(page: Page, pictures: readonly Picture[]): Promise<void> {
  const paths = pictures.map(({ path }) => path)
  const several = page.locator('input[type=file][multiple]')
  if ((await several.count()) > 0) await several.first().setInputFiles(paths)
  else
    for (const [i, path] of paths.entries()) {
      await page.locator('input[type=file]').first().setInputFiles(path)
      await shownPhotos(page, i + 1)
    }
  await shownPhotos(page, paths.length)
}
const photosShown = /(\d+) photos?[,:] /
/** How many photos the screen says are kept here or at the office. */
export async function photosSaid(page: Page): Promise<number> {
  const words = await page
    .getByText(photosShown)
    .first()
    .textContent({ timeout: 500 })
    .catch(() => '')
  return Number(photosShown.exec(words ?? '')?.[1] ?? 0)
}
async function shownPhotos(page: Page, count: number) {
  for (const end = Date.now() + 60_000; (await photosSaid(page)) < count; await wait(50))
    if (Date.now() > end) throw new Error(`${await photosSaid(page)} of ${count} photos are shown as kept.`)
}

const headings = async (page: Page) =>
  `${(await page.getByRole('heading').allInnerTexts()).join(' / ')} [${(await page.getByRole('button').allInnerTexts()).join(' | ')}]`

/** From the end of a visit back to the day. */
export async function toTheDay(page: Page): Promise<void> {
  const link = page
    .getByRole('link', { name: /next stop|Back to the day|Today/i })
    .or(button(page, /next stop|Back to the day/i))
  await link.first().click({ timeout: PRESS_MS })
  await nextTag(page)
}

/** Skips the next stop with a reason. The dialog says which one it is. */
export async function skipNext(page: Page, ledger: Ledger, because: string): Promise<string> {
  await nextTag(page)
  await button(page, 'Skip').click()
  const title = await page.getByRole('dialog').getByRole('heading').first().textContent()
  const tag = /^Skip (\S+)/.exec(title ?? '')?.[1]
  if (!tag) throw new Error(`The dialog names no tree: ${title}`)
  await page.getByRole('dialog').getByRole('textbox').fill(because)
  await button(page, 'Skip this stop').click()
  await page.getByRole('dialog').waitFor({ state: 'detached', timeout: PRESS_MS })
  ledger.skipped.push(tag)
  return tag
}

/** In an open visit: people first, who was told, and what is closed. */
export async function tellUrgent(page: Page, ledger: Ledger, tag: string): Promise<void> {
  await button(page, 'Somebody is in danger: urgent note').click()
  await button(page, 'People are kept out: yes').click()
  await page.getByRole('textbox', { name: 'Who' }).fill('The harbour office')
  await button(page, 'by telephone').click()
  await page.getByRole('textbox', { name: /^What is taped off/ }).fill('The path, until tomorrow')
  await button(page, 'Send the urgent note').click()
  await page.getByText('It goes first of all as soon as there is signal.').waitFor({ timeout: PRESS_MS })
  ledger.urgent.push(tag)
  await button(page, 'Go on with the visit').click()
}

/** Puts a tree that nobody had on record on the day, where the phone stands. */
export async function findTree(page: Page, ledger: Ledger): Promise<string> {
  await button(page, 'Change').click()
  await button(page, 'A tree that is not on record').click()
  await page.getByRole('textbox', { name: /^Species, botanical/ }).fill('Quercus robur')
  const place = button(page, 'Take the phone’s place')
  if (await seen(place)) await place.click()
  await page.getByText('where the phone is').waitFor({ timeout: PRESS_MS })
  const tag = await page.getByRole('textbox', { name: 'Tag' }).inputValue()
  await button(page, 'Keep this tree').click()
  await page.getByRole('dialog').waitFor({ state: 'detached', timeout: PRESS_MS })
  ledger.found.push(tag)
  return tag
}
