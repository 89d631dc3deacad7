import { AxeBuilder } from '@axe-core/playwright'
import { demoPassword } from '@underbough/db'
import type { Harness } from '@underbough/server'
import { startHarness } from '@underbough/server'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { desk, phone, shoot, signIn, startBrowser, webFolder } from './chromium.ts'

const ways = [
  { way: 'desk-by-day', size: desk, scheme: 'light' },
  { way: 'phone-by-night', size: phone, scheme: 'dark' },
] as const

/** What a reader by ear would stumble over, and what hides beyond the edge. */
async function faultsOf(page: Page) {
  const found = await new AxeBuilder({ page }).analyze()
  const wider = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  )
  return [
    ...found.violations.map((v) => `${v.id}: ${v.nodes[0]?.target}`),
    ...(wider > 0 ? [`${wider} px beyond the edge`] : []),
  ]
}

describe('changes tried out and places ranked', () => {
  let harness: Harness
  let browser: Browser
  let address: string
  const people = new Map<string, { page: Page; faults: string[] }>()
  beforeAll(async () => {
    harness = await startHarness('embedded', new Date('2026-11-25T12:00:00Z'), { demo: true })
    address = await harness.listen(process.env.UNDERBOUGH_WEB ?? webFolder)
    browser = await startBrowser()
    for (const { way, size, scheme } of ways)
      people.set(way, await signIn(browser, address, 'e.pell@portmaud.example', demoPassword, size, scheme))
  })
  afterAll(async () => {
    await browser?.close()
    await harness?.close()
  })

  const idOf = async (page: Page, what: 'trees' | 'zones', word: string) => {
    const answer = await (
      await page.request.get(`/api/${what}${what === 'trees' ? `?q=${word}` : ''}`)
    ).json()
    return answer[what].find((row: { tag?: string; name?: string }) => (row.tag ?? row.name) === word).id
  }

  it.each(ways)('a tree is pruned by the keyboard alone, and nothing is kept, $way', async ({ way }) => {
    const { page, faults } = people.get(way)!
    const id = await idOf(page, 'trees', '0417')
    const before = await (await page.request.get(`/api/trees/${id}`)).json()
    await page.goto(`/trees/${id}`)
    await page.getByRole('button', { name: 'Try a change' }).press('Enter')
    const trial = page.getByRole('group', { name: 'What pruning would leave' })
    const slide = trial.getByLabel('Height, slide')
    await slide.focus()
    for (let i = 0; i < 8; i++) await slide.press('PageDown')
    await page.getByText(/would be left[.;]|It would change little/).waitFor()
    const typed = trial.getByLabel('Height, m')
    expect(Number(await typed.inputValue())).toBeLessThan(before.tree.heightM)
    await typed.fill('900')
    await page.getByText(/^2 to [\d.]+ m$/).waitFor()
    await typed.fill('12')
    await slide.scrollIntoViewIfNeeded()
    await shoot(page, `what-if-tree-${way}`)
    expect(await faultsOf(page)).toEqual([])
    const after = await (await page.request.get(`/api/trees/${id}`)).json()
    expect([after.tree, after.works]).toEqual([before.tree, before.works])
    expect(faults).toEqual([])
  })

  it('what is proposed becomes a work that says what would remain; the record stays as it is', async () => {
    const { page } = people.get('desk-by-day')!
    const id = await idOf(page, 'trees', '0417')
    await page.getByRole('button', { name: 'Propose as a work' }).click()
    await page.getByRole('button', { name: 'Propose it' }).click()
    await page.getByText('It is proposed.').waitFor()
    const { tree, works } = await (await page.request.get(`/api/trees/${id}`)).json()
    const made = works.find((work: { description: string }) => /Given that it falls: /.test(work.description))
    expect([made.kind, made.state]).toEqual(['reduce', 'proposed'])
    expect(made.description).toMatch(
      /^Prune: height [\d.]+ to 12 m.* Given that it falls: .* people within .*, before .*; somebody there in .*\(exposure \d+\)\.$/,
    )
    expect(tree.heightM).toBeGreaterThan(12)
  })

  it.each(ways)('a zone is moved, shut at gusts and shut by hours, $way', async ({ way }) => {
    const { page, faults } = people.get(way)!
    const id = await idOf(page, 'zones', 'Bandstand')
    await page.goto(`/zones/${id}/what-if`)
    await page.getByText('Nothing is changed yet.').waitFor({ timeout: 60_000 })
    await page.getByLabel('How far, m', { exact: true }).fill('90')
    await page.getByText(/may meet it now|may meet it;/).waitFor({ timeout: 30_000 })
    await shoot(page, `what-if-zone-${way}`)
    expect(await faultsOf(page)).toEqual([])
    await page.getByText('Close it at gust warnings').click()
    await page.getByLabel('Falls that would come while it is shut, of 100', { exact: true }).fill('100')
    await page.getByText(/which bears most, [\d.]+ people on average would be 0\./).waitFor()
    await page.getByText('Change its hours').click()
    await page.getByText('Shut from').waitFor()
    const { zone } = await (await page.request.get(`/api/zones/${id}`)).json()
    expect(zone.version).toBe(1)
    expect(faults).toEqual([])
  })

  it.each(ways)('the list and the map go together, narrowed and counted in cells, $way', async ({ way }) => {
    const { page, faults } = people.get(way)!
    await page.goto('/hotspots?kind=seating')
    await page.getByRole('button', { name: 'Bandstand' }).first().click()
    expect(new URL(page.url()).searchParams.get('spot')).toBe(await idOf(page, 'zones', 'Bandstand'))
    await page.getByRole('link', { name: /^0417/ }).first().waitFor()
    await page.getByText('Cells of a grid').click()
    await page
      .getByRole('button', { name: /^In square/ })
      .first()
      .waitFor()
    await page.waitForTimeout(1500)
    await shoot(page, `hotspots-cells-${way}`)
    expect(await faultsOf(page)).toEqual([])
    await page.getByRole('link', { name: 'For paper' }).click()
    await page.getByRole('img', { name: /^Map with the numbers 1 to/ }).waitFor()
    await shoot(page, `hotspots-paper-${way}`)
    expect(await faultsOf(page)).toEqual([])
    expect(faults).toEqual([])
  })

  it('prints on one or two sheets of A4', async () => {
    const { page } = people.get('desk-by-day')!
    await page.goto('/hotspots/paper')
    await page.getByRole('img', { name: /^Map with the numbers 1 to 20/ }).waitFor()
    const paper = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
    const sheets = paper.match(/\/Type\s*\/Page\b/g)!.length
    expect(sheets).toBeGreaterThan(0)
    expect(sheets).toBeLessThanOrEqual(2)
    // A4: 210 by 297 mm, in points of 1/72 inch, rounded.
    expect(paper).toMatch(/\/MediaBox\s*\[\s*0 0 59[45](\.\d+)? 84[12](\.\d+)?\s*\]/)
  })
})
