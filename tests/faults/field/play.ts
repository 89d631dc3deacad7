import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import type { Account, Ground } from '../ground.ts'
import { drained, type Kept } from './device.ts'
import { nextTag, signIn } from './hand.ts'
import { emptyLedger, type Ledger, type Reckoning, reckon } from './ledger.ts'
import { type Office, openOffice } from './office.ts'
import { type Phone, takePhone } from './phone.ts'
import { drawPictures, type Picture } from './pictures.ts'

/** One round of a fault: what came of it, and how often the fault fell on work. A round without a hit proves nothing. */
export interface Round extends Reckoning {
  hits: number
}
/** What a round has to itself. */
export interface Play {
  office: Office
  phone: Phone
  ledger: Ledger
  /** Seeded: from 0 to below 1. */
  chance(): number
  /** Pictures that nobody has taken yet. */
  take(count: number): Picture[]
  /** Neither the browser nor the line has signal. */
  offline(): Promise<void>
  online(): Promise<void>
  /** Waits until nothing waits on the phone. */
  drained(patienceMs?: number): Promise<Kept>
}
export interface Setting {
  ground: Ground
  chance(): number
  /** Pictures that a round may need. */
  pictures: number
}
/** Works the fault and answers how often it fell on work. The ledger holds what was shown as kept. */
export type FieldCase = (play: Play) => Promise<number>

/** The corner of the invented town, in open sea, where the first tree stands. */
const here: [number, number] = [-8.25, -31.67]

/** One round: a fresh copy of the office, a new phone that has today's day, the fault, and the reckoning. */
export async function playRound({ ground, chance, pictures }: Setting, work: FieldCase): Promise<Round> {
  const folder = mkdtempSync(join(tmpdir(), 'underbough-pictures-'))
  const drawn = await drawPictures(folder, pictures, Math.floor(chance() * 1e6))
  const office = await openOffice(ground)
  const phone = await takePhone(office.line.address, here)
  const ledger = emptyLedger()
  try {
    const hits = await work({
      office,
      phone,
      ledger,
      chance,
      take: (count) => {
        if (drawn.length < count) throw new Error('The round has no picture left.')
        return drawn.splice(0, count)
      },
      async offline() {
        office.line.refuse()
        await phone.context.setOffline(true)
      },
      async online() {
        office.line.pass()
        await phone.context.setOffline(false)
      },
      drained: (patienceMs) => drained(phone.page, patienceMs),
    })
    return { hits, ...reckon(ledger, await office.books()) }
  } catch (error) {
    const path = join(tmpdir(), 'underbough-fault.png')
    await phone.page.screenshot({ path, timeout: 5000 }).catch(() => {})
    throw new Error(`${(error as Error).message} [the screen then: ${path}]`)
  } finally {
    await phone.remove()
    await office.remove()
    rmSync(folder, { recursive: true, force: true })
  }
}

/** Signs in on the phone, opens the day, and waits until the program and the day are on the device. */
export async function beginDay({ office, phone }: Play, account: Account = 'inspector'): Promise<Page> {
  const { page } = phone
  await page.goto(`${office.line.address}/today`)
  await signIn(page, account)
  await nextTag(page)
  await page.evaluate('navigator.serviceWorker.ready.then(() => true)')
  await page.getByText(/^On this phone: today/).waitFor({ timeout: 120_000 })
  if (await page.getByText('did not come').count()) throw new Error('The day did not come whole.')
  await phone.rememberCookies()
  return page
}
