import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { demoPassword } from '@underbough/db'
import { type Harness, startHarness } from '@underbough/server'
import { type BrowserContext, chromium, type Page } from 'playwright-core'
import { browserArguments, browserPath, phone, webFolder } from '../browser/chromium.ts'
import type { BenchRow } from './row.ts'

const TIMES = 5
const median = (values: number[]) => values.sort((a, b) => a - b)[Math.floor(values.length / 2)]!

/** A phone on the demo's Wednesday: what is loaded first, how soon the day can be used, and the same once the office is gone. */
export async function run(): Promise<BenchRow[]> {
  const harness = await startHarness('embedded', new Date('2026-11-25T12:00:00Z'), { demo: true })
  const address = await harness.listen(process.env.UNDERBOUGH_WEB ?? webFolder)
  const profile = mkdtempSync(join(tmpdir(), 'underbough-field-'))
  try {
    const first = await firstLoad(address)
    await takeTheDay(profile, address)
    await stop(harness)
    return [...first, ...(await offline(profile, address))]
  } finally {
    await stop(harness)
    rmSync(profile, { recursive: true, force: true })
  }
}

let stopped = false
async function stop(harness: Harness): Promise<void> {
  if (!stopped) await harness.close()
  stopped = true
}

const open = (profile: string, address: string, serviceWorkers: 'allow' | 'block' = 'allow') =>
  chromium.launchPersistentContext(profile, {
    executablePath: browserPath,
    args: browserArguments,
    viewport: phone,
    baseURL: address,
    serviceWorkers,
    // The demo's Wednesday, as the office has it.
    timezoneId: 'UTC',
  })
async function pageOf(context: BrowserContext): Promise<Page> {
  const page = await context.newPage()
  await page.clock.setSystemTime(new Date('2026-11-25T12:00:00Z'))
  return page
}
async function signIn(page: Page): Promise<void> {
  await page.goto('/')
  await page.getByLabel('E-mail address').fill('l.sand@portmaud.example')
  await page.getByLabel('Password').fill(demoPassword)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await usable(page)
}
/** The list can be used: its first action can be pressed. */
const usable = (page: Page) => page.getByRole('button', { name: /^Start at/ }).waitFor()

/** Scripts of /today before its map, packed, without a service worker: what a phone fetches the first time. */
async function firstLoad(address: string): Promise<BenchRow[]> {
  const profile = mkdtempSync(join(tmpdir(), 'underbough-first-'))
  const context = await open(profile, address, 'block')
  try {
    const page = await pageOf(context)
    await signIn(page)
    const scripts: { at: number; url: string; body: Promise<Buffer> }[] = []
    const began = performance.now()
    page.on('response', (response) => {
      if (!/\.m?js$/.test(new URL(response.url()).pathname)) return
      const body = response.body()
      body.catch(() => {})
      scripts.push({ at: performance.now() - began, url: response.url(), body })
    })
    await page.goto('/today')
    await usable(page)
    const usableMs = performance.now() - began
    const before = scripts.filter((script) => !script.url.includes('maplibre'))
    const bodies = await Promise.all(before.map((script) => script.body))
    const bytes = bodies.reduce((sum, body) => sum + gzipSync(body, { level: 9 }).length, 0)
    await page.getByRole('button', { name: 'Map', exact: true }).click()
    const engine = await waitFor(() => scripts.find((script) => script.url.includes('maplibre')))
    return [
      {
        case: 'scripts of the day before its map, packed',
        figure: bytes / 1000,
        unit: 'kB',
        note: 'at most 350',
      },
      { case: 'list usable, from the first request', figure: usableMs, unit: 'ms' },
      {
        case: 'the map’s engine is fetched',
        figure: engine.at,
        unit: 'ms',
        note: 'only once the map is opened',
      },
    ]
  } finally {
    await context.close()
    rmSync(profile, { recursive: true, force: true })
  }
}

async function waitFor<T>(look: () => T | undefined): Promise<T> {
  for (let i = 0; i < 300; i++) {
    const found = look()
    if (found) return found
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  throw new Error('The map’s engine was never fetched.')
}

async function takeTheDay(profile: string, address: string): Promise<void> {
  const context = await open(profile, address)
  const page = await pageOf(context)
  await signIn(page)
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null)
  await page.getByText(/^On this phone: today/).waitFor({ timeout: 120_000 })
  await context.close()
}

/** A new browser on the same profile, and nobody at the address. */
async function offline(profile: string, address: string): Promise<BenchRow[]> {
  const shell: number[] = []
  const list: number[] = []
  const saved: number[] = []
  for (let i = 0; i < TIMES; i++) {
    const context = await open(profile, address)
    const page = await pageOf(context)
    const began = performance.now()
    await page.goto('/today')
    await page.getByRole('link', { name: 'To the page' }).waitFor({ state: 'attached' })
    shell.push(performance.now() - began)
    await usable(page)
    list.push(performance.now() - began)
    if (i === TIMES - 1) saved.push(...(await savings(page)))
    await context.close()
  }
  return [
    { case: 'opened without signal: the frame', figure: median(shell), unit: 'ms', note: 'below 2000' },
    { case: 'opened without signal: the day', figure: median(list), unit: 'ms', note: 'below 2000' },
    {
      case: 'an answer of a visit is stored on the phone',
      figure: median(saved),
      unit: 'ms',
      note: `below 100; slowest ${Math.max(...saved).toFixed(0)}`,
    },
  ]
}

/** From the press to the end of the first writing transaction it causes, by the browser's own events. */
async function savings(page: Page): Promise<number[]> {
  await page.addInitScript(() => {
    const times = { pressed: 0, saved: [] as number[] }
    Object.assign(window, { times })
    addEventListener('click', () => (times.pressed = performance.now()), true)
    const begin = IDBDatabase.prototype.transaction
    IDBDatabase.prototype.transaction = function (
      this: IDBDatabase,
      ...given: Parameters<IDBDatabase['transaction']>
    ) {
      const made = begin.apply(this, given)
      if (given[1] === 'readwrite')
        made.addEventListener('complete', () => {
          if (times.pressed > 0) times.saved.push(performance.now() - times.pressed)
          times.pressed = 0
        })
      return made
    }
  })
  await page.reload()
  await usable(page)
  await page.getByRole('button', { name: /^Start at/ }).click()
  await page.getByRole('button', { name: 'Begin with the surroundings' }).click()
  for (let i = 0; i < 6; i++) {
    await page.waitForTimeout(1000)
    await page.evaluate(() =>
      Object.assign((window as never as { times: { pressed: number } }).times, { pressed: 0 }),
    )
    await page.getByText('Seen, nothing found').first().click()
  }
  return page.evaluate(() => (window as never as { times: { saved: number[] } }).times.saved)
}
