import { AxeBuilder } from '@axe-core/playwright'
import { demoPassword } from '@underbough/db'
import type { Harness } from '@underbough/server'
import { startHarness } from '@underbough/server'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { phone, shoot, signIn, startBrowser, webFolder } from './chromium.ts'

/** Presses at a share of an element's width and height. */
async function pressAt(page: Page, target: Locator, x: number, y: number) {
  await target.scrollIntoViewIfNeeded()
  const box = (await target.boundingBox())!
  await page.mouse.click(box.x + box.width * x, box.y + box.height * y)
}

describe('a visit under the tree', () => {
  let harness: Harness
  let browser: Browser
  let page: Page
  let faults: string[]
  let treeId: string
  beforeAll(async () => {
    harness = await startHarness('embedded', new Date(), { demo: true })
    const address = await harness.listen(webFolder)
    browser = await startBrowser()
    const person = await signIn(browser, address, 'm.orrin@portmaud.example', demoPassword, phone)
    page = person.page
    faults = person.faults
    await person.context.grantPermissions(['geolocation'], { origin: address })
    await person.context.setGeolocation({ longitude: -8.25, latitude: -31.67, accuracy: 6 })
    treeId = (await (await page.request.get('/api/trees?q=0417')).json()).trees[0].id
    await page.goto(`/trees/${treeId}/visit`)
    await page.getByRole('button', { name: 'Level: 2 basic' }).click()
    await page.getByRole('button', { name: 'Begin with the surroundings' }).click()
  })
  afterAll(async () => {
    await browser?.close()
    await harness?.close()
  })

  it('goes on by one tap a step, and places a finding on the portrait', async () => {
    for (const step of ['1 Surroundings', '2 Beyond the roots', '3 Root zone', '4 Base']) {
      await page.getByRole('heading', { name: step }).waitFor()
      await page.getByRole('button', { name: 'Seen, nothing found' }).click()
    }
    await page.getByRole('heading', { name: '5 Stem' }).waitFor()
    await page.getByRole('button', { name: 'Seen, with findings' }).click()
    await page.getByRole('button', { name: 'Opening', exact: true }).click()
    await pressAt(page, page.getByRole('slider', { name: /^Height/ }), 0.6, 0.6)
    // East of the middle, a little below it.
    await pressAt(page, page.getByRole('slider', { name: /^Side/ }), 0.85, 0.55)
    const side = await page.getByRole('slider', { name: /^Side/ }).getAttribute('aria-valuenow')
    expect(Number(side)).toBeGreaterThan(90)
    expect(Number(side)).toBeLessThan(120)
    await page.getByText('position within 6 m').waitFor()
  })

  it('stands exactly where it was when the page is thrown away and opened again', async () => {
    await page.getByRole('textbox', { name: 'Note' }).fill('Two flies on the rim.')
    const height = await page.getByRole('slider', { name: /^Height/ }).getAttribute('aria-valuenow')
    await page.waitForTimeout(300)
    await page.goto('about:blank')
    await page.goto(`/trees/${treeId}/visit`)
    await page.getByRole('heading', { name: '5 Stem' }).waitFor()
    expect(await page.getByRole('textbox', { name: 'Note' }).inputValue()).toBe('Two flies on the rim.')
    expect(await page.getByRole('slider', { name: /^Height/ }).getAttribute('aria-valuenow')).toBe(height)
  })

  it('cannot be closed with a step unanswered: it says which and leads there', async () => {
    await page.getByRole('button', { name: 'Next: main branches' }).click()
    await page.getByRole('button', { name: 'Next: twigs and leaves' }).click()
    await page.getByRole('button', { name: 'Seen, nothing found' }).click()
    await page.getByRole('button', { name: 'Next: works' }).click()
    await page.getByRole('button', { name: 'Next: read it back' }).click()
    const missing = page.getByRole('listitem').filter({ hasText: 'Main branches is not answered yet.' })
    expect(await page.getByRole('button', { name: 'Close the visit' }).isDisabled()).toBe(true)
    await missing.getByRole('button', { name: 'Go there' }).click()
    await page.getByRole('heading', { name: '6 Main branches' }).waitFor()
    expect(faults).toEqual([])
  })

  it.each([
    { ground: 'day', wish: 'paper' },
    { ground: 'night', wish: 'bark' },
    { ground: 'sun', wish: 'sun' },
  ])(
    'shows each of the seven steps to the eye and to a screen reader on the ground of $ground',
    async (one) => {
      await page.evaluate((wish) => localStorage.setItem('underbough.ground', wish), one.wish)
      await page.reload()
      for (let step = 1; step <= 7; step++) {
        await page.getByRole('button', { name: new RegExp(`^Go to ${step} `) }).click()
        await page.getByRole('heading', { name: new RegExp(`^${step} `) }).waitFor()
        const found = await new AxeBuilder({ page }).analyze()
        expect(found.violations.map((v) => `${v.id}: ${v.nodes[0]?.target}`)).toEqual([])
        await shoot(page, `visit-${step}-${one.ground}`)
      }
      expect(faults).toEqual([])
    },
  )
})
