import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { gunzipSync } from 'node:zlib'
import type { Ask, Harness } from '@underbough/server'
import { startHarness } from '@underbough/server'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { desk, phone, shoot, signIn, startBrowser, webFolder } from './chromium.ts'

const password = 'a long enough word'
// Street trees of one district of Toronto (Open Government Licence - Toronto) where they are at hand, else a small file of ours.
const city = fileURLToPath(
  new URL('../../../shared/data/toronto/street-tree-data-EY.2022-06-01.csv.gz', import.meta.url),
)
const ours = fileURLToPath(new URL('../../fixtures/import/port-maud-2025.csv', import.meta.url))
const list = existsSync(city)
  ? { name: 'street-trees.csv', bytes: gunzipSync(readFileSync(city)), rows: 6503 }
  : {
      name: 'port-maud.csv',
      bytes: readFileSync(ours),
      rows: readFileSync(ours, 'utf8').trim().split('\n').length - 1,
    }

const day = { fromMinute: 480, toMinute: 960 }
const crewOf = (letter: string, start: [number, number], memberIds: string[]) => ({
  name: `Crew ${letter}`,
  letter,
  level: 2,
  equipment: [],
  memberIds,
  start,
  end: start,
  hours: [day, day, day, day, day, null, null],
  breakMinutes: 30,
  daysOff: [],
})

/** A small house a few steps east of each of some trees: a structure, so a constant target. */
function housesBeside(places: [number, number][]): string {
  const square = ([lon, lat]: [number, number]) => {
    const [w, e] = [lon + 0.00005, lon + 0.00017]
    return [
      [
        [w, lat - 0.00004],
        [e, lat - 0.00004],
        [e, lat + 0.00005],
        [w, lat + 0.00005],
        [w, lat - 0.00004],
      ],
    ]
  }
  return JSON.stringify({
    type: 'FeatureCollection',
    features: places.map((place, i) => ({
      type: 'Feature',
      properties: { name: `House ${i + 1}`, building: 'yes' },
      geometry: { type: 'Polygon', coordinates: square(place) },
    })),
  })
}

describe('the job, from a list to a finished stop', () => {
  let harness: Harness
  let browser: Browser
  let address: string
  let officer: Ask
  beforeAll(async () => {
    harness = await startHarness('embedded')
    address = await harness.listen(webFolder)
    browser = await startBrowser()
    officer = await harness.as('officer')
  })
  afterAll(async () => {
    await browser?.close()
    await harness?.close()
  })

  async function bringIn(page: Page, kind: string, file: { name: string; mimeType: string; buffer: Buffer }) {
    await page.goto('/import')
    await page.getByRole('radio', { name: kind }).click({ force: true })
    await page.getByLabel('File', { exact: true }).setInputFiles(file)
    await page.getByRole('button', { name: 'Look at the file' }).click()
    await page.getByRole('heading', { name: 'What the file holds' }).waitFor({ timeout: 60_000 })
    await shoot(page, `import-${kind}-mapping-desk`)
    await page.getByRole('button', { name: 'Read with this mapping' }).click()
    const write = page.getByRole('button', { name: /^Bring in \d/ })
    await write.waitFor({ timeout: 120_000 })
    await shoot(page, `import-${kind}-preview-desk`)
    await write.click()
    await page
      .getByText(/brought in/i)
      .first()
      .waitFor({ timeout: 120_000 })
    await harness.deps.jobs.idle()
  }

  it('walks from sign-in to the hotspots', async () => {
    const desktop = await signIn(browser, address, 'officer@portmaud.example', password)
    const { page } = desktop

    // A real inventory, then zones beside one in five of its first trees.
    await bringIn(page, 'Trees', { name: list.name, mimeType: 'text/csv', buffer: list.bytes })
    const trees = (await officer('GET', '/trees?limit=2000')).body
    expect(trees.total).toBe(list.rows)
    const places = trees.trees
      .filter((_: unknown, i: number) => i % 5 === 0)
      .map((t: { position: [number, number] }) => t.position)
    await bringIn(page, 'Zones', {
      name: 'houses.geojson',
      mimeType: 'application/geo+json',
      buffer: Buffer.from(housesBeside(places)),
    })
    const zones = (await officer('GET', '/zones')).body.zones
    expect(zones).toHaveLength(places.length)

    // Who is under which tree is worked out, and the first looks come due, those beside a constant target first.
    await officer('POST', '/due/recompute', {})
    await harness.deps.jobs.idle()
    const due = (await officer('GET', '/trees?dueUntil=2027-02-25&limit=2000')).body
    expect(due.total).toBeGreaterThanOrEqual(places.length)
    await page.goto('/ground')
    await page
      .getByText(/Looks due by week/)
      .first()
      .waitFor()
    await page.waitForTimeout(4000)
    await shoot(page, 'ground-desk')

    // Two crews, ten days, sent.
    const yard = places[0] as [number, number]
    for (const crew of [crewOf('A', yard, ['inspector-1']), crewOf('B', yard, [])]) {
      const made = await officer('POST', '/crews', crew)
      expect(made.status, JSON.stringify(made.body)).toBe(200)
    }
    await page.goto('/rounds')
    await page.getByRole('button', { name: 'Plan rounds' }).click()
    await page.getByLabel('First day').fill('2026-11-25')
    await page.getByRole('button', { name: 'Plan these days' }).click()
    await page.getByRole('heading', { name: /days?, \d crews?/ }).waitFor({ timeout: 180_000 })
    await page.waitForTimeout(3000)
    await shoot(page, 'rounds-desk')
    await page.getByRole('button', { name: 'Send all days' }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Send all days' }).click()
    await page.getByText('Sent.').waitFor()

    // The crew opens today on a phone, visits the first tree in seven steps, and its date moves.
    const crew = await signIn(browser, address, 'inspector@portmaud.example', password, phone)
    const start = crew.page.getByRole('button', { name: /^Start at/ })
    await start.waitFor({ timeout: 30_000 })
    await shoot(crew.page, 'today-phone')
    await crew.page.getByRole('button', { name: 'Map', exact: true }).click()
    await crew.page.waitForTimeout(3000)
    await shoot(crew.page, 'today-map-phone')
    const map = await crew.page.locator('.today-map .ground-map').boundingBox()
    expect(map!.height).toBeGreaterThan(400)
    await crew.page.getByRole('button', { name: 'Way', exact: true }).click()
    const inspector = await harness.as('inspector')
    const first = (await inspector('GET', '/today')).body.daySheet.stops[0]
    await start.click()
    await visit(crew.page)
    const after = (await officer('GET', `/trees/${first.tree.id}`)).body
    expect(after.seen).toBe(true)
    expect(after.due.on > first.tree.due.on).toBe(true)
    // The stop's own entry follows the closing.
    await expect
      .poll(async () => (await inspector('GET', '/today')).body.daySheet.stops[0].doneVisitId)
      .toBe(after.visits[0].id)

    // The manager sees what hangs over which zone.
    const manager = await signIn(browser, address, 'manager@portmaud.example', password)
    await manager.page.goto('/hotspots')
    await manager.page
      .getByText(/^House \d+$/)
      .first()
      .waitFor({ timeout: 30_000 })
    await manager.page.waitForTimeout(3000)
    await shoot(manager.page, 'hotspots-desk')
    const ranked = (await officer('GET', '/hotspots?limit=5')).body.spots
    expect(ranked.length).toBeGreaterThan(0)

    for (const path of ['/ground', '/rounds', '/hotspots', '/trees', `/trees/${first.tree.id}`])
      for (const [name, size] of [
        ['desk', desk],
        ['phone', phone],
      ] as const) {
        await page.setViewportSize(size)
        await page.goto(path)
        await page.waitForTimeout(2500)
        await shoot(
          page,
          `${path.slice(1).replace(/\W.*$/, '') || 'first'}${path.split('/').length > 2 ? '-one' : ''}-${name}`,
        )
      }
    expect([...desktop.faults, ...crew.faults, ...manager.faults]).toEqual([])
  }, 900_000)
})

/** The seven steps, one tap each (on a phone it also goes on), and the closing. */
async function visit(page: Page) {
  await page.getByRole('button', { name: 'Begin with the surroundings' }).click()
  const steps = [
    'Surroundings',
    'Beyond the roots',
    'Root zone',
    'Base',
    'Stem',
    'Main branches',
    'Twigs and leaves',
  ]
  for (const [i, name] of steps.entries()) {
    await page.getByRole('heading', { name: `${i + 1} ${name}` }).waitFor()
    await page.getByText('Seen, nothing found').first().click()
    if (i === 0) await shoot(page, 'visit-phone')
  }
  await page.getByRole('button', { name: 'Next: works' }).click()
  await page.getByRole('button', { name: 'Next: read it back' }).click()
  await page.getByRole('button', { name: 'Close the visit' }).waitFor()
  await shoot(page, 'visit-closing-phone')
  await page.getByRole('button', { name: 'Close the visit' }).click()
  await page.getByRole('heading', { name: 'The visit is closed' }).waitFor({ timeout: 30_000 })
  await page.getByRole('status').filter({ hasText: 'At the office' }).first().waitFor()
  await shoot(page, 'visit-closed-phone')
}
