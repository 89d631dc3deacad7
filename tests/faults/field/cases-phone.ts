import { visits } from './cases-line.ts'
import { readDevice } from './device.ts'
import { goThrough, nextTag, photosSaid, takePhotos, toTheDay, visitNext } from './hand.ts'
import { beginDay, type FieldCase } from './play.ts'

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const SIX = 6
/** The browser looks at its room anew this often, as tried with Chromium 156. */
const ROOM_MS = 31_000

/**
 * The browser is killed while six photos of a visit are being kept: what was shown as kept is there after it opens again, byte for
 * byte; and once more while the visit is being closed.
 */
export const killedWhileSaving: FieldCase = async (play) => {
  const { phone, ledger, chance } = play
  const page = await beginDay(play)
  await play.offline()
  const pictures = play.take(SIX)
  const tag = await nextTag(page)
  await page.getByRole('button', { name: /^Start at / }).click()
  const input = page.locator('input[type=file]').first()
  await begin(page)
  await input.waitFor({ state: 'attached', timeout: 20_000 })
  const taking = takePhotos(page, pictures).catch(() => {})
  let shown = 0
  for (const end = Date.now() + 3000 * chance(); Date.now() < end; await wait(5))
    shown = Math.max(shown, await photosSaid(page))
  phone.kill()
  await taking
  let again = await phone.reopen('/today')
  await phone.context.setOffline(true)
  const lost = await lostBytes(again, shown)
  const there = new Set((await readDevice(again, true))!.files.map(({ sha256 }) => sha256))
  await again.getByRole('button', { name: new RegExp(`^(Start|Go on) at ${tag}`) }).click()
  const rest = pictures.filter(({ sha256 }) => !there.has(sha256))
  const closing = goThrough(again, rest).catch(() => {})
  const press = again.getByRole('button', { name: /^Close the visit/ }).waitFor({ timeout: 60_000 })
  await Promise.race([closing, press.catch(() => {})])
  await wait(300 * chance())
  phone.kill()
  await closing
  again = await phone.reopen('/today')
  await play.online()
  if ((await nextTag(again)) === tag) {
    await again.getByRole('button', { name: /^(Start|Go on) at / }).click()
    const kept = new Set((await readDevice(again, true))!.files.map(({ sha256 }) => sha256))
    await goThrough(
      again,
      pictures.filter(({ sha256 }) => !kept.has(sha256)),
    )
  }
  ledger.visits.push({ tag: tag!, person: ledger.person })
  ledger.photos.push(...pictures.map(({ sha256 }) => sha256))
  if (lost) throw new Error(lost)
  await play.drained()
  return shown > 0 ? 1 : 0
}
const begin = async (page: Parameters<typeof nextTag>[0]) => {
  const press = page.getByRole('button', { name: /^Begin / })
  if (
    await press.waitFor({ timeout: 5000 }).then(
      () => true,
      () => false,
    )
  )
    await press.click()
}

/** In words, what of so many photos is not on the device, or is there with other bytes. */
async function lostBytes(page: Parameters<typeof nextTag>[0], shown: number): Promise<string | null> {
  const kept = await readDevice(page, true)
  if (!kept) return 'The device has no database.'
  const photos = kept.entries.filter(({ kind }) => kind === 'photo').length
  if (photos < shown) return `${shown} photos were shown as kept, and ${photos} are there.`
  const differs = kept.files.filter(({ name, sha256 }) => name !== sha256)
  return differs.length > 0 ? `${differs.length} files have other bytes.` : null
}

/** The device has no room: what does not fit is refused aloud and never shown as kept, and nothing that was kept is harmed. */
export const storageFull: FieldCase = async (play) => {
  const { office, phone, ledger } = play
  const page = await beginDay(play)
  await play.offline()
  await visits(play, 1, 2)
  const pictures = play.take(2)
  const tag = await nextTag(page)
  await page.getByRole('button', { name: /^Start at / }).click()
  await begin(page)
  await page.locator('input[type=file]').first().waitFor({ state: 'attached', timeout: 20_000 })
  const session = await phone.context.newCDPSession(page)
  const room = (quotaSize?: number) =>
    session.send('Storage.overrideQuotaForOrigin', { origin: office.line.address, quotaSize })
  await room(1)
  await wait(ROOM_MS)
  const before = (await readDevice(page))!.entries.length
  await page.locator('input[type=file]').first().setInputFiles(pictures[0]!.path)
  await page.getByText('Photo not kept.').waitFor({ timeout: 20_000 })
  if ((await photosSaid(page)) > 0) throw new Error('A photo is shown as kept that is not.')
  if ((await readDevice(page))!.entries.length > before) throw new Error('Half a photo was kept.')
  await room()
  await goThrough(page, pictures)
  ledger.visits.push({ tag: tag!, person: ledger.person })
  ledger.photos.push(...pictures.map(({ sha256 }) => sha256))
  await toTheDay(page)
  await play.online()
  await play.drained()
  return 1
}

/** The office is put back to yesterday's copy while the phone holds today's work as sent: all of it comes again. */
export const officeRestored: FieldCase = async (play) => {
  const { office, phone, chance } = play
  const page = await beginDay(play)
  await visits(play, 1, 1)
  await play.drained()
  await office.server.stop()
  await office.copy.keep()
  await office.restart()
  await visits(play, 2, 2)
  await play.drained()
  await office.server.stop()
  await office.copy.putBack()
  await office.restart()
  const asked = new Promise((resolve) => office.line.listen(/^POST \/api\/entries\/known /, resolve))
  // Either the program is opened anew, or it goes on and learns it from the office's next answer.
  if (chance() < 0.5) await page.reload()
  else {
    await visitNext(page, play.ledger, play.take(1))
    await toTheDay(page)
  }
  await Promise.race([asked, wait(60_000).then(() => Promise.reject(new Error('The phone did not ask.')))])
  await wait(1000)
  await play.drained()
  if (phone.faults.length > 0) throw new Error(phone.faults[0])
  return 1
}
