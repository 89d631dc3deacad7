import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, type BrowserContext, type Cookie, chromium, type Page } from 'playwright-core'
import { browserArguments, browserPath, phone as screen } from '../../browser/chromium.ts'

/** A phone: one browser profile on disk, whose browser can be killed and opened again. */
export interface Phone {
  /** The tab in front. */
  page: Page
  context: BrowserContext
  /** What went wrong in any of its pages. */
  faults: string[]
  open(path?: string): Promise<Page>
  /** Ends every process of the browser without a word (SIGKILL), as when the battery dies. */
  kill(): void
  /**
   * The browser writes cookies to disk twice a minute. A phone that signed in this morning has its own there; one that signed in a
   * moment ago is given it back when it opens again.
   */
  rememberCookies(): Promise<void>
  /** Opens the browser again on what the profile holds. */
  reopen(path?: string): Promise<Page>
  remove(): Promise<void>
}

/** Takes a new phone out of its box. Where it stands: a place on the invented island. */
export async function takePhone(address: string, [longitude, latitude]: [number, number]): Promise<Phone> {
  const profile = mkdtempSync(join(tmpdir(), 'underbough-phone-'))
  let process_: ChildProcess
  let browser: Browser
  const faults: string[] = []
  let cookies: Cookie[] = []
  const dress = async (page: Page) => {
    await page.setViewportSize(screen)
    page.on('pageerror', (error) => faults.push(error.message))
  }
  const start = async (path: string) => {
    const started = await startBrowserAt(profile)
    process_ = started.child
    browser = await chromium.connectOverCDP(started.address)
    self.context = browser.contexts()[0]!
    await self.context.grantPermissions(['geolocation'], { origin: address })
    await self.context.setGeolocation({ longitude, latitude, accuracy: 6 })
    await self.context.addCookies(cookies)
    self.page = self.context.pages()[0] ?? (await self.context.newPage())
    await dress(self.page)
    await self.page.goto(address + path)
    return self.page
  }
  const kill = () => {
    // Its own group alone: the browser's children are in it.
    try {
      process.kill(-process_.pid!, 'SIGKILL')
    } catch {
      // It is dead already.
    }
  }
  const self: Phone = {
    page: null as unknown as Page,
    context: null as unknown as BrowserContext,
    faults,
    async open(path = '/') {
      const page = await self.context.newPage()
      await dress(page)
      await page.goto(address + path)
      return page
    },
    kill,
    async rememberCookies() {
      cookies = await self.context.cookies()
    },
    async reopen(path = '/') {
      kill()
      await browser.close().catch(() => {})
      return start(path)
    },
    async remove() {
      kill()
      await browser.close().catch(() => {})
      rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 })
    },
  }
  const withUs = () => kill()
  process.once('exit', withUs)
  await start('/mark.svg')
  return self
}

async function startBrowserAt(profile: string): Promise<{ child: ChildProcess; address: string }> {
  const child = spawn(
    browserPath,
    [...browserArguments, `--user-data-dir=${profile}`, '--remote-debugging-port=0', 'about:blank'],
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'] },
  )
  child.unref()
  return new Promise((resolve, reject) => {
    let words = ''
    const late = setTimeout(() => reject(new Error(`The browser did not start. ${words}`)), 60_000)
    child.stderr!.on('data', (data) => {
      words = (words + data).slice(-4000)
      const found = /DevTools listening on (ws:\S+)/.exec(words)
      if (!found) return
      clearTimeout(late)
      resolve({ child, address: found[1]! })
    })
  })
}
