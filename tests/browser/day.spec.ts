import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { drained, readDevice } from '../faults/field/device.ts'
import {
  findTree,
  goThrough,
  nextTag,
  openNext,
  signIn,
  skipNext,
  takePhotos,
  tellUrgent,
  toTheDay,
  visitNext,
} from '../faults/field/hand.ts'
import { emptyLedger, reckon } from '../faults/field/ledger.ts'
import { type Office, openOffice, prepareField } from '../faults/field/office.ts'
import { type Phone, takePhone } from '../faults/field/phone.ts'
import { drawPictures, type Picture } from '../faults/field/pictures.ts'
import type { Ground } from '../faults/ground.ts'
import { shoot } from './chromium.ts'

const STOPS = 5

/** A whole day of a crew, short: signal at the yard, none under the trees, signal again. `npm run faults -- field offline-day` is the long one. */
describe('a day without signal, with nothing lost', () => {
  const folder = mkdtempSync(join(tmpdir(), 'underbough-day-'))
  const ledger = emptyLedger()
  let ground: Ground
  let office: Office
  let phone: Phone
  let page: Page
  let pictures: Picture[]
  beforeAll(async () => {
    pictures = await drawPictures(folder, STOPS, 25)
    ground = await prepareField('embedded', STOPS)
    office = await openOffice(ground)
    phone = await takePhone(office.line.address, [-8.25, -31.67])
    page = phone.page
  })
  afterAll(async () => {
    await phone?.remove()
    await office?.remove()
    await ground?.remove()
    rmSync(folder, { recursive: true, force: true })
  })

  /** A screen reader finds its way. */
  async function reads(name: string) {
    await shoot(page, `day-${name}-phone`)
    const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze()
    expect(violations.map((v) => `${name}: ${v.id}: ${v.nodes[0]?.target}`)).toEqual([])
  }
  /** Digests of the original photos as the office hands them out. */
  async function digestsOut(): Promise<string[]> {
    const get = (path: string) => page.context().request.get(`${office.line.address}/api${path}`)
    const out: string[] = []
    for (const { id } of (await (await get('/trees?limit=50')).json()).trees)
      for (const photo of (await (await get(`/trees/${id}`)).json()).photos)
        if (!photo.copyOf)
          out.push(
            createHash('sha256')
              .update(await (await get(`/photos/${photo.id}`)).body())
              .digest('hex'),
          )
    return out
  }
  const standing = (tag: string) => page.getByRole('listitem').filter({ hasText: tag })

  it('is fetched whole while there is signal', async () => {
    await page.goto(`${office.line.address}/today`)
    await signIn(page, 'inspector')
    await page.evaluate('navigator.serviceWorker.ready.then(() => true)')
    await page.getByText(/^On this phone: today/).waitFor({ timeout: 60_000 })
    expect(await page.getByText('did not come').count()).toBe(0)
    await reads('kept')
  })

  it('opens again with the server away, route and map and all', async () => {
    office.line.refuse()
    await phone.context.setOffline(true)
    await office.server.stop()
    const missing: string[] = []
    page.on('requestfailed', (request) => {
      if (request.url().endsWith('.mvt')) missing.push(request.url())
    })
    await page.reload()
    expect(await nextTag(page)).toBe('S00000')
    await page.getByText('What you keep stays on this phone').waitFor()
    await reads('no-signal')
    await page.getByRole('button', { name: 'Map', exact: true }).click()
    await page.locator('.today-map canvas').waitFor({ timeout: 30_000 })
    await page.waitForTimeout(1500)
    await reads('map-no-signal')
    expect(missing).toEqual([])
    await page.getByRole('button', { name: 'Way', exact: true }).click()
  })

  it('has everything that was shown as kept after its battery dies: photos byte for byte, and the visit where it was', async () => {
    await openNext(page)
    await takePhotos(page, [pictures[0]!])
    await phone.rememberCookies()
    page = await phone.reopen('/today')
    await phone.context.setOffline(true)
    const kept = (await readDevice(page, true))!
    expect(kept.files.filter(({ name, sha256 }) => name !== sha256)).toEqual([])
    expect(kept.files.map(({ sha256 }) => sha256)).toContain(pictures[0]!.sha256)
    await page.getByRole('button', { name: /^Start at / }).click()
    await page.getByText('1 photo, on this phone').waitFor()
    await page.goBack()
  })

  it('says whether its browser promised to keep what waits', async () => {
    await page.goto(`${office.line.address}/waiting`)
    const promised = await page.evaluate('navigator.storage.persisted()')
    await page.getByText(promised ? 'promised to clear nothing' : 'did not promise to keep things').waitFor()
    await reads('waiting-no-signal')
    await page.goto(`${office.line.address}/today`)
  })

  it('takes visits, an urgent note, a stop skipped and a tree found, each shown as on this phone', async () => {
    // Its photo was taken before the battery died.
    const first = await visitNext(page, ledger, [])
    ledger.photos.push(pictures[0]!.sha256)
    await reads('closed-no-signal')
    await toTheDay(page)
    await standing(first).getByText('On this phone').first().waitFor()
    const urgent = await openNext(page)
    await tellUrgent(page, ledger, urgent)
    await goThrough(page, [pictures[1]!])
    ledger.visits.push({ tag: urgent, person: 'inspector' })
    ledger.photos.push(pictures[1]!.sha256)
    await toTheDay(page)
    const skipped = await skipNext(page, ledger, 'A lorry stands under it')
    await standing(skipped).getByText('On this phone').first().waitFor()
    const found = await findTree(page, ledger)
    for (const picture of pictures.slice(2)) {
      await visitNext(page, ledger, [picture])
      await toTheDay(page)
    }
    expect(ledger.visits.map(({ tag }) => tag)).toContain(found)
    expect(await nextTag(page)).toBeNull()
    await reads('done-no-signal')
    const kept = (await readDevice(page, true))!
    expect(kept.entries.filter(({ state }) => state !== 'waiting')).toEqual([])
    expect(kept.files.filter(({ name, sha256 }) => name !== sha256)).toEqual([])
    expect(kept.files.map(({ sha256 }) => sha256)).toEqual(expect.arrayContaining(ledger.photos))
  })

  it('is at the office once there is signal, each thing once and byte for byte', async () => {
    await office.restart()
    office.line.pass()
    await phone.context.setOffline(false)
    await drained(page)
    for (const { tag } of ledger.visits) await standing(tag).getByText('At the office').first().waitFor()
    expect(await page.getByText(/^On this phone: \d/).count()).toBe(0)
    await reads('at-the-office')
    const officer = await office.as('officer')
    const notes = (await officer('GET', '/urgent-notes?open=true')).body
    expect(JSON.stringify(notes)).toContain('The harbour office')
    expect(new Set(await digestsOut())).toEqual(new Set(ledger.photos))
    expect(phone.faults).toEqual([])
    const { lost, doubles, digests, entered, atTheOffice } = reckon(ledger, await office.books())
    expect(lost).toEqual([])
    expect(doubles).toBe(0)
    // Five visits with a photo each, one skipped, one urgent note, one tree found.
    expect(entered).toBe(5 + 5 + 1 + 1 + 1)
    expect(atTheOffice).toBe(entered)
    expect(digests).toEqual({ entered: STOPS, equal: STOPS })
  })
})
