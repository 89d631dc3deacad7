import { demoPassword } from '@underbough/db'
import type { Harness } from '@underbough/server'
import { startHarness } from '@underbough/server'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { phone, shoot, signIn, startBrowser, webFolder } from './chromium.ts'

const TODAY = '2026-11-25'
interface Entry {
  kind: string
  state: string
  subjectId: string
}
/** What the device entered, in order. */
const entered = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<Entry[]>((resolve, reject) => {
        const opening = indexedDB.open('underbough')
        opening.onerror = () => reject(opening.error)
        opening.onsuccess = () => {
          const reading = opening.result.transaction('entries').objectStore('entries').getAll()
          reading.onsuccess = () => {
            opening.result.close()
            resolve(reading.result)
          }
        }
      }),
  )

describe('what a crew meets on its way, without signal', () => {
  let harness: Harness
  let browser: Browser
  let context: BrowserContext
  let page: Page
  let faults: string[]
  let foundId: string
  let fallen: { id: string; tag: string }
  beforeAll(async () => {
    harness = await startHarness('embedded', new Date(`${TODAY}T12:00:00Z`), { demo: true })
    const address = await harness.listen(process.env.UNDERBOUGH_WEB ?? webFolder)
    browser = await startBrowser()
    ;({ context, page, faults } = await signIn(
      browser,
      address,
      'l.sand@portmaud.example',
      demoPassword,
      phone,
    ))
    await context.clock.setSystemTime(new Date(`${TODAY}T12:00:00Z`))
    await context.grantPermissions(['geolocation'], { origin: address })
    await page.goto('/today')
    await page.getByText(/^On this phone: today/).waitFor({ timeout: 120_000 })
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null)
    const { crew, daySheet } = await (await page.request.get(`/api/today?date=${TODAY}`)).json()
    fallen = daySheet.stops[2].tree
    const [longitude, latitude] = crew.start
    await context.setGeolocation({ longitude, latitude, accuracy: 6 })
    await context.setOffline(true)
  })
  afterAll(async () => {
    await browser?.close()
    await harness?.close()
  })
  const dialog = () => page.getByRole('dialog')
  const change = async (what: string) => {
    await page.goto('/today')
    await page.getByRole('button', { name: 'Change', exact: true }).click()
    await dialog().getByRole('button', { name: what, exact: true }).click()
  }

  it('gives a tree that is on no list its page, and closes a visit to it', async () => {
    await change('A tree that is not on record')
    await dialog()
      .getByRole('textbox', { name: /^Species/ })
      .fill('Quercus robur')
    const press = dialog().getByRole('button', { name: 'Take the phone’s place' })
    const known = dialog().getByText(/where the phone is/)
    await press.or(known).first().waitFor()
    if (await press.isVisible()) await press.click()
    await known.waitFor()
    await dialog().getByRole('button', { name: 'Keep this tree' }).click()
    await dialog().waitFor({ state: 'detached' })
    foundId = (await entered(page)).find(({ kind }) => kind === 'found-tree')!.subjectId
    await page.goto(`/trees/${foundId}`)
    await page.getByText('This tree goes to the office by itself.').waitFor()
    await shoot(page, 'found-tree-phone')
    await page.getByRole('button', { name: 'Start a visit' }).click()
    await page.getByRole('button', { name: 'Level: 2 basic' }).click()
    await page.getByRole('button', { name: 'Begin with the surroundings' }).click()
    for (let step = 1; step <= 7; step++) {
      await page.getByRole('heading', { name: new RegExp(`^${step} `) }).waitFor()
      await page.getByRole('button', { name: 'Seen, nothing found' }).click()
    }
    const close = page.getByRole('button', { name: 'Close the visit' })
    for (let i = 0; i < 6 && !(await close.isVisible()); i++) {
      await page.getByRole('button', { name: /^Next/ }).first().click()
      await page.waitForTimeout(300)
    }
    await close.click()
    await page.getByRole('heading', { name: 'The visit is closed' }).waitFor()
  })

  it('finds a tree along the way by its tag, records that it fell and keeps a photo of it', async () => {
    await change('Found fallen')
    await dialog().getByRole('searchbox').fill(fallen.tag)
    await dialog()
      .getByText(/^No signal: searched among the/)
      .waitFor()
    await dialog()
      .getByRole('button', { name: new RegExp(`^${fallen.tag} `) })
      .first()
      .click()
    await dialog().getByText('The whole tree, at the roots').click()
    await dialog()
      .getByText(/^Its record will say that it is gone/)
      .waitFor()
    await dialog().getByRole('button', { name: 'Record it as found fallen' }).click()
    await dialog().getByText('Found fallen: on this phone').waitFor()
    const buffer = await page.screenshot({ type: 'jpeg' })
    await dialog()
      .locator('input[type=file]')
      .first()
      .setInputFiles({ name: 'fall.jpg', mimeType: 'image/jpeg', buffer })
    await dialog().getByText('1 photo, on this phone').waitFor()
    await shoot(page, 'found-fallen-phone')
    await dialog().getByRole('button', { name: 'Done' }).click()
  })

  it('draws a stop to another place in the order', async () => {
    await change('Change the order')
    const names = async () =>
      (await dialog().locator('.order-name').allInnerTexts()).map((name) => name.replace(/^\d+\. /, ''))
    const [first, second, third] = await names()
    const grip = async (i: number) => (await dialog().locator('.order-grip').nth(i).boundingBox())!
    const [from, to] = [await grip(0), await grip(2)]
    expect(Math.min(from.width, from.height)).toBeGreaterThanOrEqual(48)
    await page.mouse.move(from.x + 20, from.y + 20)
    await page.mouse.down()
    await page.mouse.move(to.x + 20, to.y + to.height - 4, { steps: 12 })
    await page.mouse.up()
    expect((await names()).slice(0, 3)).toEqual([second, third, first])
  })

  it('has all of it at the office once there is signal', async () => {
    await context.setOffline(false)
    await page.goto('/waiting')
    const left = async () =>
      (await entered(page))
        .filter(({ state }) => state !== 'sent')
        .map(({ kind, state }) => `${kind} ${state}`)
    await expect.poll(left, { timeout: 20_000 }).toEqual([])
    const record = async (id: string) => (await page.request.get(`/api/trees/${id}`)).json()
    const found = await record(foundId)
    expect([found.tree.species, found.visits.map((visit: { stage: string }) => visit.stage)]).toEqual([
      'Quercus robur',
      ['closed'],
    ])
    const lies = await record(fallen.id)
    expect([lies.tree.status, lies.tree.goneOn, lies.failures.length]).toEqual(['gone', TODAY, 1])
    const owners: string[] = lies.photos.map((photo: { ownerKind: string }) => photo.ownerKind)
    expect([...new Set(owners)]).toEqual(['failure'])
    expect(faults).toEqual([])
  })
})
