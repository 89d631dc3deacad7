import { mkdtempSync, rmSync } from 'node:fs'
import { createServer, request, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import { demoPassword } from '@underbough/db'
import type { Harness } from '@underbough/server'
import { startHarness } from '@underbough/server'
import { type BrowserContext, chromium, type Page } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { browserArguments, browserPath, webFolder as built, phone, shoot } from './chromium.ts'

/** The way to the office, which a test can cut, and on which a new version of the program can come. */
class Way {
  cut = false
  newVersion = false
  private server: Server | null = null
  async open(office: string): Promise<string> {
    const { hostname, port } = new URL(office)
    this.server = createServer((asked, answer) => {
      if (this.cut) return void asked.socket.destroy()
      const { method, url: path, headers } = asked
      const worker = path === '/sw.js'
      const on = request(
        {
          hostname,
          port,
          method,
          path,
          headers: { ...headers, ...(worker ? { 'accept-encoding': '' } : {}) },
        },
        (from) => {
          const { 'content-length': _, ...rest } = from.headers
          answer.writeHead(from.statusCode!, worker ? rest : from.headers)
          from.on('end', () => answer.end(worker && this.newVersion ? '\n// newer' : ''))
          from.pipe(answer, { end: false })
        },
      )
      on.on('error', () => answer.destroy())
      asked.pipe(on)
    })
    await new Promise<void>((resolve) => this.server!.listen(0, '127.0.0.1', resolve))
    return `http://127.0.0.1:${(this.server.address() as AddressInfo).port}`
  }
  close = () => this.server?.close()
}

// On a phone of its own, with a profile: what is private keeps nothing and cannot be installed.
describe('the program without signal', () => {
  const way = new Way()
  const profile = mkdtempSync(join(tmpdir(), 'underbough-offline-'))
  let harness: Harness
  let context: BrowserContext
  let page: Page
  let address: string
  beforeAll(async () => {
    harness = await startHarness('embedded', new Date('2026-11-25T12:00:00Z'), { demo: true })
    address = await way.open(await harness.listen(process.env.UNDERBOUGH_WEB ?? built))
    context = await chromium.launchPersistentContext(profile, {
      executablePath: browserPath,
      args: browserArguments,
      viewport: phone,
      baseURL: address,
      timezoneId: 'UTC',
    })
    await context.clock.setSystemTime(new Date('2026-11-25T12:00:00Z'))
    page = await context.newPage()
    await signIn()
  })
  afterAll(async () => {
    await context?.close()
    way.close()
    await harness?.close()
    rmSync(profile, { recursive: true, force: true })
  })
  beforeEach(() => {
    way.cut = false
  })

  async function signIn() {
    await page.goto('/')
    await page.getByLabel('E-mail address').fill('l.sand@portmaud.example')
    await page.getByLabel('Password').fill(demoPassword)
    await page.getByRole('button', { name: 'Sign in', exact: true }).click()
    await page.getByRole('button', { name: /^Start at/ }).waitFor()
  }
  const kept = () => page.getByText(/^On this phone: today/).waitFor({ timeout: 120_000 })
  async function expectNoFindings() {
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme })
      const found = await new AxeBuilder({ page }).analyze()
      expect(found.violations.map((v) => `${v.id}: ${v.nodes[0]?.target}`)).toEqual([])
    }
  }

  it('can be installed: Chromium finds nothing amiss with manifest and worker', async () => {
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null)
    const tools = await context.newCDPSession(page)
    expect(await tools.send('Page.getInstallabilityErrors')).toEqual({ installabilityErrors: [] })
    const manifest = await tools.send('Page.getAppManifest')
    expect(manifest.errors).toEqual([])
    expect(JSON.parse(manifest.data!)).toMatchObject({
      name: 'Underbough',
      start_url: '/',
      display: 'standalone',
    })
  })

  it('opens the day and a visit as they were fetched, in the place of an office that is gone', async () => {
    await kept()
    way.cut = true
    await page.goto('/today')
    await page.getByText('No signal.').waitFor()
    const start = page.getByRole('button', { name: /^Start at/ })
    await start.waitFor()
    await shoot(page, 'offline-today-phone')
    await expectNoFindings()
    await start.click()
    await page.getByRole('button', { name: 'Begin with the surroundings' }).waitFor()
    await page.goto(page.url().replace(/\/visit.*/, ''))
    await page.getByText(/^On this phone, as of \d/).waitFor()
    await expectNoFindings()
  })

  it('draws the map of the way from the day’s own tiles', async () => {
    way.cut = true
    await page.goto('/today')
    await page.getByRole('button', { name: 'Map', exact: true }).click()
    await page.getByRole('button', { name: 'Nearer' }).waitFor()
    const tile = await page.evaluate(async () => {
      const [name] = await caches
        .keys()
        .then((all) => all.filter((one) => one.startsWith('underbough-kept-')))
      const keys = await (await caches.open(name!)).keys()
      const at = new URL(keys.find((key) => key.url.includes('/tiles/trees/16/'))!.url).pathname
      // Of a version that this phone has never seen.
      const answer = await fetch(`${at}?v=999-x`)
      return [answer.status, (await answer.arrayBuffer()).byteLength > 0]
    })
    expect(tile).toEqual([200, true])
  })

  it('says what it does not keep instead of showing nothing', async () => {
    way.cut = true
    await page.goto('/works')
    await page.getByText('No signal: the office did not answer.').first().waitFor()
  })

  it('stays usable when the office asks to sign in, and asks once', async () => {
    await context.clearCookies()
    await page.goto('/today')
    await page.getByText('Signed out at the office: sign in to send.').waitFor()
    await page.getByRole('button', { name: /^Start at/ }).waitFor()
    await shoot(page, 'signed-out-phone')
    await expectNoFindings()
    await page.getByRole('button', { name: 'Sign in', exact: true }).click()
    const dialog = page.getByRole('dialog')
    await dialog.getByLabel('Password').waitFor()
    await shoot(page, 'sign-in-dialog-phone')
    await expectNoFindings()
    await dialog.getByLabel('Password').fill(demoPassword)
    await dialog.getByRole('button', { name: 'Sign in', exact: true }).click()
    await dialog.waitFor({ state: 'detached' })
    await page.getByText('Signed out at the office: sign in to send.').waitFor({ state: 'detached' })
  })

  it('lets a new version wait, says so, and takes it on a press, never under a visit', async () => {
    await page.goto('/today')
    await page.getByRole('button', { name: /^Start at/ }).waitFor()
    way.newVersion = true
    await page.evaluate(() => navigator.serviceWorker.getRegistration().then((one) => one!.update()))
    await page.getByText('A new version is ready.').waitFor()
    await shoot(page, 'new-version-phone')
    await expectNoFindings()
    await page.getByRole('button', { name: /^Start at/ }).click()
    await page.getByRole('button', { name: 'Begin with the surroundings' }).waitFor()
    expect(await page.getByText('A new version is ready.').count()).toBe(0)
    expect(
      await page.evaluate(() =>
        navigator.serviceWorker.getRegistration().then((one) => one!.waiting !== null),
      ),
    ).toBe(true)
    await page.goBack()
    await page.getByRole('button', { name: 'Take it' }).click()
    await page.getByText('A new version is ready.').waitFor({ state: 'detached' })
    await page.waitForFunction(() =>
      navigator.serviceWorker.getRegistration().then((one) => one!.waiting === null && one!.active !== null),
    )
    await page.getByRole('button', { name: /^Start at/ }).waitFor()
  })

  it('clears what was fetched when its person signs out', async () => {
    await page.goto('/trees')
    await page.getByRole('button', { name: 'More' }).click()
    await page.getByRole('button', { name: /^Sign out/ }).click()
    await page.getByText('are cleared from this phone.').waitFor()
    await shoot(page, 'sign-out-phone')
    await expectNoFindings()
    await page.getByRole('dialog').getByRole('button', { name: 'Sign out', exact: true }).click()
    await page.getByLabel('E-mail address').waitFor()
    const names = await page.evaluate(() => caches.keys())
    expect(names.filter((name) => name.startsWith('underbough-kept-'))).toEqual([])
  })
})
