import { AxeBuilder } from '@axe-core/playwright'
import { demoPassword } from '@underbough/db'
import type { Harness } from '@underbough/server'
import { startHarness } from '@underbough/server'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { desk, phone, shoot, signIn, startBrowser, webFolder } from './chromium.ts'

// Each page by the person who stands there, with a word that is on it once it has what it shows.
const pages = [
  { name: 'ground', path: '/ground', who: 'e.pell', shows: /^Ground: the organisation/ },
  { name: 'trees', path: '/trees', who: 'e.pell', shows: /trees on record/ },
  { name: 'tree', path: '/trees/:beech', who: 'e.pell', shows: 'The tree, to scale' },
  { name: 'rounds', path: '/rounds', who: 'e.pell', shows: 'Left over' },
  { name: 'import', path: '/import', who: 'e.pell', shows: 'Bring in a list' },
  { name: 'works', path: '/works', who: 'e.pell', shows: 'Works' },
  { name: 'records', path: '/records', who: 'e.pell', shows: 'Records' },
  { name: 'settings', path: '/settings', who: 'e.pell', shows: 'Settings' },
  { name: 'hotspots', path: '/hotspots', who: 'h.lark', shows: 'Where falls would meet people' },
  { name: 'today', path: '/today', who: 'l.sand', shows: /Crew B/ },
  { name: 'visit', path: '/trees/:beech/visit', who: 'l.sand', shows: /0417/ },
] as const
// Each page once by day at the desk and once by night on a phone: two of the four, so that the suite stays short.
const ways = [
  { way: 'desk by day', size: desk, scheme: 'light' },
  { way: 'phone by night', size: phone, scheme: 'dark' },
] as const

describe('every page of the demo', () => {
  let harness: Harness
  let browser: Browser
  const people = new Map<string, { page: Page; faults: string[] }>()
  let beech: string
  beforeAll(async () => {
    harness = await startHarness('embedded', new Date('2026-11-25T12:00:00Z'), { demo: true })
    const address = await harness.listen(webFolder)
    browser = await startBrowser()
    for (const who of new Set(pages.map((page) => page.who)))
      people.set(who, await signIn(browser, address, `${who}@portmaud.example`, demoPassword))
    const answer = await people.get('e.pell')!.page.request.get('/api/trees?q=0417')
    beech = (await answer.json()).trees[0].id
  })
  afterAll(async () => {
    await browser?.close()
    await harness?.close()
  })

  describe.each(ways)('$way', ({ way, size, scheme }) => {
    beforeAll(async () => {
      for (const { page } of people.values()) {
        await page.setViewportSize(size)
        await page.emulateMedia({ colorScheme: scheme })
      }
    })

    it.each(pages)(
      '$name shows what it is for, and a screen reader finds its way',
      async ({ name, path, who, shows }) => {
        const { page, faults } = people.get(who)!
        faults.length = 0
        await page.goto(path.replace(':beech', beech))
        await page
          .getByRole('main')
          .getByText(shows)
          .filter({ visible: true })
          .first()
          .waitFor({ timeout: 30_000 })
        // Whatever it still asks for has come, and what that draws is drawn.
        await page.waitForLoadState('networkidle')
        await page.evaluate(() => new Promise((drawn) => requestIdleCallback(drawn, { timeout: 1500 })))
        await shoot(page, `${name}-${way.replaceAll(' ', '-')}`)
        // No page holds a frame, so that axe need not open another page to put what it found together.
        expect(page.frames()).toHaveLength(1)
        const found = await new AxeBuilder({ page }).setLegacyMode().analyze()
        expect(found.violations.map((v) => `${v.id}: ${v.nodes[0]?.target}`)).toEqual([])
        expect(faults).toEqual([])
        // Nothing hides beyond the edge: a page scrolls down, not sideways.
        const wider = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        )
        expect(wider).toBe(0)
      },
    )
  })
})
