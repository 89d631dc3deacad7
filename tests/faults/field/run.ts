import { runStories } from '../../../packages/field/src/testing/simulation.ts'
import {
  answerLost,
  lineDeaf,
  offlineDay,
  requestCut,
  sentAgain,
  serverKilled,
  twoTabs,
} from './cases-line.ts'
import { oldPhone } from './cases-old.ts'
import { personLeft, poison, sessionExpired, twoPeople } from './cases-people.ts'
import { killedWhileSaving, officeRestored, storageFull } from './cases-phone.ts'
import { prepareField } from './office.ts'
import { type FieldCase, playRound, type Round } from './play.ts'

/** A fault, and the day it needs: stops of the crew, and pictures. */
interface Kind {
  work: FieldCase
  stops: number
  pictures: number
}
const few = { stops: 6, pictures: 12 }
export const fieldCases = {
  'server-killed': { work: serverKilled, ...few },
  'answer-lost': { work: answerLost, ...few },
  'request-cut': { work: requestCut, ...few },
  'line-deaf': { work: lineDeaf, ...few },
  'sent-again': { work: sentAgain, ...few },
  'killed-while-saving': { work: killedWhileSaving, ...few },
  'two-tabs': { work: twoTabs, ...few },
  'offline-day': { work: offlineDay, stops: 40, pictures: 200 },
  'office-restored': { work: officeRestored, ...few },
  'old-phone': { work: oldPhone, ...few },
  'session-expired': { work: sessionExpired, ...few },
  'person-left': { work: personLeft, ...few },
  'two-people': { work: twoPeople, ...few },
  poison: { work: poison, ...few },
  'storage-full': { work: storageFull, ...few },
} satisfies Record<string, Kind>
export type FieldName = keyof typeof fieldCases

const columns = ['case', 'rounds', 'at work', 'entered', 'at the office', 'digests equal', 'doubles', 'lost']
const row = (cells: (string | number)[]) =>
  cells.map((cell, i) => String(cell)[i === 0 ? 'padEnd' : 'padStart'](i === 0 ? 21 : 14)).join('')

/** Plays rounds of each case and prints what came of them; answers how many rounds lost something or proved nothing. */
export async function field(
  names: readonly FieldName[],
  count: number,
  chance: () => number,
  kind: 'embedded' | 'postgresql',
): Promise<number> {
  console.log(row(columns))
  let bad = 0
  for (const name of names) {
    const { work, stops, pictures }: Kind = fieldCases[name]
    const ground = await prepareField(kind, stops)
    const rounds: Round[] = []
    for (let i = 0; i < count; i++) {
      const round = await playRound({ ground, chance, pictures }, work).catch((error: Error) => fell(error))
      for (const line of round.lost.slice(0, 5)) console.log(`  LOST  ${name}: ${line}`)
      rounds.push(round)
    }
    await ground.remove()
    bad += rounds.filter(({ lost }) => lost.length > 0).length
    const sum = (of: (round: Round) => number) => rounds.reduce((total, round) => total + of(round), 0)
    const atWork = rounds.filter(({ hits }) => hits > 0).length
    if (atWork === 0) bad++
    console.log(
      row([
        name,
        count,
        atWork,
        sum((r) => r.entered),
        sum((r) => r.atTheOffice),
        `${sum((r) => r.digests.equal)} of ${sum((r) => r.digests.entered)}`,
        sum((r) => r.doubles),
        sum((r) => r.lost.length),
      ]),
    )
  }
  return bad
}
const fell = (error: Error): Round => ({
  hits: 0,
  entered: 0,
  atTheOffice: 0,
  digests: { entered: 0, equal: 0 },
  doubles: 0,
  lost: [error.message],
})

/** Seeded stories of phones, people and one office over a way that fails; answers how many ended with a fault. */
export async function phones(count: number, seed: number): Promise<number> {
  const bad = await runStories(count, seed)
  for (const { story, faults } of bad.slice(0, 5))
    console.log(`  LOST  story ${story}: ${JSON.stringify(faults)}`)
  const of = (name: 'wedged' | 'divergent' | 'notOnce') =>
    bad.filter(({ faults }) => faults[name].length > 0).length
  console.log(
    `phones  ${count} stories from seed ${seed}: wedged ${of('wedged')}, divergent ${of('divergent')}, not once ${of('notOnce')}`,
  )
  return bad.length
}
