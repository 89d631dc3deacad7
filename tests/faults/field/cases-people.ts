import { tables } from '@underbough/db'
import { eq, sql } from 'drizzle-orm'
import type { Page } from 'playwright-core'
import { visits } from './cases-line.ts'
import { readDevice } from './device.ts'
import { nextTag, signIn } from './hand.ts'
import { beginDay, type FieldCase } from './play.ts'

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const LOOK_MS = 30_000

/** Waits until the device's entries are as wanted; throws with what they are. */
async function until(page: Page, what: string, wanted: (kept: Kept) => boolean, patienceMs = 60_000) {
  for (const end = Date.now() + patienceMs; ; await wait(200)) {
    const kept = await readDevice(page)
    if (kept && wanted(kept)) return kept
    if (Date.now() > end) throw new Error(`${what} did not come about: ${JSON.stringify(kept)}`)
  }
}
type Kept = NonNullable<Awaited<ReturnType<typeof readDevice>>>

/** The session ends while there is no signal: work goes on, the phone asks to sign in when it sends, and all arrives. */
export const sessionExpired: FieldCase = async (play) => {
  const { office, phone } = play
  const page = await beginDay(play)
  await play.offline()
  await visits(play, 1, 1)
  await office.whileDown(({ db }) => db.delete(tables.authSession))
  await visits(play, 1, 1)
  await play.online()
  const { waiting } = (await readDevice(page))!
  await page
    .getByText(/sign in to send/i)
    .first()
    .waitFor({ timeout: LOOK_MS })
  if ((await readDevice(page))!.waiting !== waiting) throw new Error('Something left without a person.')
  // Signed out, the day goes on with what is on the phone.
  await visits(play, 1, 1)
  await page
    .getByRole('button', { name: /^Sign in/ })
    .first()
    .click()
  await signIn(page, 'inspector')
  await phone.rememberCookies()
  await play.drained()
  return waiting > 0 ? 1 : 0
}

/** A person leaves the organisation while their phone holds work: it stays, and an officer sends it as theirs. */
export const personLeft: FieldCase = async (play) => {
  const { office } = play
  const page = await beginDay(play)
  await play.offline()
  await visits(play, 2, 1)
  await office.whileDown(({ db }) =>
    db
      .update(tables.membership)
      .set({ endedOn: '2026-11-01' })
      .where(eq(tables.membership.personId, 'inspector')),
  )
  await play.online()
  await page
    .getByText(/sign in to send/i)
    .first()
    .waitFor({ timeout: LOOK_MS })
  const { entries, waiting } = (await readDevice(page))!
  if (entries.some(({ authorId }) => authorId !== 'inspector'))
    throw new Error('An entry changed its author.')
  await page
    .getByRole('button', { name: /^Sign in/ })
    .first()
    .click()
  await signIn(page, 'officer')
  await page.goto(`${office.line.address}/waiting`)
  await page
    .getByRole('button', { name: /^Send (them|it) as/ })
    .first()
    .click({ timeout: LOOK_MS })
  await play.drained()
  return waiting > 0 ? 1 : 0
}

/** A second person signs in on the phone: each one's work waits for them, goes as theirs, and is not shown to the other. */
export const twoPeople: FieldCase = async (play) => {
  const { office, ledger } = play
  const page = await beginDay(play)
  await play.offline()
  await visits(play, 2, 1)
  const first = ledger.visits.map(({ tag }) => tag)
  // The first person's session ends, so that their work cannot go behind the second one's back.
  await office.whileDown(({ db }) => db.delete(tables.authSession))
  await play.online()
  await page
    .getByText(/sign in to send/i)
    .first()
    .waitFor({ timeout: LOOK_MS })
  await page
    .getByRole('button', { name: /^Sign in/ })
    .first()
    .click()
  await signIn(page, 'second')
  ledger.person = 'second'
  await page.goto(`${office.line.address}/today`)
  const tag = await nextTag(page)
  if (tag && first.includes(tag)) throw new Error('The second person is shown the first one’s day.')
  await visits(play, 1, 1)
  const kept = await until(page, 'The second person’s work', ({ entries }) =>
    entries.every(({ authorId, state }) => authorId !== 'second' || state === 'sent'),
  )
  const theirs = kept.entries.filter(({ authorId }) => authorId === 'inspector')
  if (theirs.length === 0 || theirs.some(({ state }) => state !== 'waiting'))
    throw new Error('The first person’s work did not wait for them.')
  await office.whileDown(({ db }) => db.delete(tables.authSession))
  await page.reload()
  await page
    .getByRole('button', { name: /^Sign in/ })
    .first()
    .click({ timeout: LOOK_MS })
  await signIn(page, 'inspector')
  await play.drained()
  return theirs.length
}

/** One visit makes the office fail each time it comes: everything else arrives, and the page of what waits names it. */
export const poison: FieldCase = async (play) => {
  const { office, ledger } = play
  const page = await beginDay(play)
  await play.offline()
  await visits(play, 3, 1)
  const bad = ledger.visits[0]!.tag
  await office.whileDown(({ db }) => db.execute(sql.raw(poisonFor(bad))))
  await play.online()
  await until(
    page,
    'The rest',
    ({ entries }) =>
      entries.filter(({ kind, state }) => kind === 'closing' && state === 'sent').length === 2 &&
      entries.some(({ state, codes }) => state === 'waiting' && codes.includes('internal-fault')),
  )
  await page.goto(`${office.line.address}/waiting`)
  await page.getByText(new RegExp(bad)).first().waitFor({ timeout: LOOK_MS })
  await office.whileDown(({ db }) => db.execute(sql.raw('drop function poison cascade')))
  await page
    .getByRole('button', { name: /again now|Send now/i })
    .first()
    .click({ timeout: LOOK_MS })
  await play.drained()
  return 1
}
/** Makes the database itself fail for one tree's visits, so that no word of the program is put on for this. */
const poisonFor = (tag: string) => `
  create function poison() returns trigger language plpgsql as $$ begin
    if exists (select 1 from tree where id = new.tree_id and tag = '${tag}') then raise exception 'poison'; end if;
    return new;
  end $$;
  create trigger poison before insert or update on visit for each row execute function poison();`
