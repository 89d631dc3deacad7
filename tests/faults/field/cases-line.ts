import { toTheDay, visitNext } from './hand.ts'
import type { Heard } from './line.ts'
import { beginDay, type FieldCase, type Play } from './play.ts'

const batches = /^POST \/api\/entries /
const sending = /^(POST \/api\/entries|PUT \/api\/uploads\/\S+) /
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** Visits so many stops with so many photos each, and comes back to the day after each. */
export async function visits(play: Play, count: number, photosEach: number): Promise<void> {
  for (let i = 0; i < count; i++) {
    await visitNext(play.phone.page, play.ledger, play.take(photosEach))
    await toTheDay(play.phone.page)
  }
}

/** The server is killed while it works on what the phone sends, twice, and another one is started on what is left. */
export const serverKilled: FieldCase = async (play) => {
  const { office, chance } = play
  await beginDay(play)
  await play.offline()
  await visits(play, 3, 2)
  let hits = 0
  for (const which of [batches, sending]) {
    const dead = new Promise<boolean>((resolve) => {
      let heard = false
      office.line.listen(which, () => {
        if (heard) return
        heard = true
        setTimeout(() => resolve(true), chance() * 120)
      })
      setTimeout(() => resolve(false), 20_000)
    })
    await play.online()
    if (!(await dead)) break
    hits++
    await office.killAndRestart()
    await play.phone.context.setOffline(true)
  }
  await play.online()
  await play.drained()
  return hits
}

/** The office stores what came and its answer is lost, many times over. */
export const answerLost: FieldCase = async (play) => {
  await beginDay(play)
  await play.offline()
  await visits(play, 3, 2)
  await play.phone.context.setOffline(false)
  play.office.line.swallowAnswer(sending, 6)
  await play.drained(240_000)
  return play.office.line.hits()
}

/** Requests are cut off in their middle. */
export const requestCut: FieldCase = async (play) => {
  await beginDay(play)
  await play.offline()
  await visits(play, 3, 2)
  await play.phone.context.setOffline(false)
  play.office.line.cutAfter(Math.round(600 + 20_000 * play.chance()), sending, 6)
  await play.drained(240_000)
  return play.office.line.hits()
}

/** The line goes deaf in one direction and nobody is told: first what is sent is lost, then what is answered. */
export const lineDeaf: FieldCase = async (play) => {
  await beginDay(play)
  await play.offline()
  await visits(play, 2, 2)
  let hits = 0
  for (const direction of ['out', 'in'] as const) {
    await play.phone.context.setOffline(false)
    play.office.line.deaf(direction)
    await wait(8000)
    hits += play.office.line.hits()
    await play.offline()
  }
  await play.online()
  await play.drained(240_000)
  return hits
}

/** The office gets the same batches again, twice, and with their entries the other way round. */
export const sentAgain: FieldCase = async (play) => {
  const { line } = play.office
  await beginDay(play)
  const heard: Heard[] = []
  line.listen(batches, (request) => heard.push(request))
  await play.offline()
  await visits(play, 3, 1)
  await play.online()
  await play.drained()
  const own = [...heard]
  for (const turned of [false, false, true])
    for (const { headers, body } of turned ? own.toReversed() : own) {
      const text = body.toString('utf8')
      const batch = JSON.parse(text)
      const answer = await fetch(`${line.address}/api/entries`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', cookie: headers.cookie ?? '' },
        body: turned ? JSON.stringify({ ...batch, entries: batch.entries.toReversed() }) : text,
      })
      if (!answer.ok) throw new Error(`A batch sent again was answered ${answer.status}`)
      const { answers } = (await answer.json()) as { answers: { again: boolean; verdict: string }[] }
      const odd = answers.find(({ again, verdict }) => !again && verdict === 'taken')
      if (odd) throw new Error('An entry sent again was taken as new.')
    }
  return own.length
}

/** Two tabs of one browser are open all day; whatever is entered is sent by one of them, once. */
export const twoTabs: FieldCase = async (play) => {
  const { office, phone } = play
  await beginDay(play)
  let [sent, atOnce, most] = [0, 0, 0]
  office.line.listen(sending, ({ over }) => {
    sent++
    most = Math.max(most, ++atOnce)
    void over.then(() => atOnce--)
  })
  await phone.open('/today')
  await play.offline()
  await visits(play, 2, 2)
  await play.online()
  // Both wake at once, and a third one is opened while one of them sends.
  await phone.open('/today')
  await visits(play, 1, 2)
  await play.drained()
  if (most > 1) throw new Error(`${most} tabs sent at once.`)
  return sent
}

/** A whole day without signal; then everything goes while the connection falls every few seconds. */
export const offlineDay: FieldCase = async (play) => {
  await beginDay(play)
  await play.offline()
  await visits(play, DAY.stops, DAY.photosEach)
  await play.phone.context.setOffline(false)
  play.office.line.dropEvery(1500 + 2500 * play.chance())
  await play.drained(900_000)
  const hits = play.office.line.hits()
  play.office.line.pass()
  return hits
}
export const DAY = { stops: 40, photosEach: 5 } as const
