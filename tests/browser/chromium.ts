import { mkdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'

const folder = fileURLToPath(new URL('../../.shots', import.meta.url))
export const webFolder = fileURLToPath(new URL('../../apps/web/dist', import.meta.url))

export const browserPath = process.env.CHROMIUM || '/usr/bin/chromium'
export const browserArguments = [
  '--headless',
  '--no-sandbox',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
]
/** Headless Chromium that draws maps in software and asks nobody outside. */
export const startBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: browserPath, args: browserArguments })

export const desk = { width: 1440, height: 900 }
export const phone = { width: 390, height: 844 }

/** A person at the program: signed in through the door, with every fault of the page collected. */
export async function signIn(
  browser: Browser,
  address: string,
  email: string,
  password: string,
  viewport = desk,
  colorScheme: 'light' | 'dark' = 'light',
) {
  const context: BrowserContext = await browser.newContext({
    viewport,
    baseURL: address,
    colorScheme,
  })
  const page = await context.newPage()
  const faults: string[] = []
  page.on('pageerror', (error) => faults.push(error.message))
  await page.goto('/')
  await page.getByLabel('E-mail address').fill(email)
  await page.getByLabel('Password').fill(password)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.getByRole('link', { name: 'To the page' }).waitFor({ state: 'attached' })
  return { context, page, faults }
}

/** A picture of the page as it stands, for a person to look at. */
export async function shoot(page: Page, name: string) {
  mkdirSync(folder, { recursive: true })
  await page.screenshot({ path: `${folder}/${name}.png` })
}
