/**
 * `npm run faults -- [name] [--count N] [--seed S]`: kills a working server at seeded moments and looks at what the next one finds.
 * `npm run faults -- field [name]`: phones with a real browser, and everything between them and the office failing.
 * `npm run faults -- phones`: the same in thousands of seeded stories without either. Exit 1 on any loss.
 */
import { createConnection } from 'node:net'
import { parseArgs } from 'node:util'
import { seededNumbers } from '@underbough/model'
import { cases, spanMs } from './cases.ts'
import { type FieldName, field, fieldCases, phones } from './field/run.ts'
import { prepare } from './ground.ts'

const TREES = 1000
const ROWS = 2000
/** So far that a pass over all of them takes many squares of the map. */
const APART_M = 100
const { values, positionals } = parseArgs({
  options: {
    count: { type: 'string', default: '10' },
    seed: { type: 'string', default: '1' },
    database: { type: 'string', multiple: true },
  },
  allowPositionals: true,
})
const [name, part] = positionals
if (name === 'phones') process.exit((await phones(Number(values.count), Number(values.seed))) > 0 ? 1 : 0)
if (name === 'field') await fieldThenExit()
const names = (Object.keys(cases) as (keyof typeof cases)[]).filter((one) => !name || one === name)
if (names.length === 0) {
  unknown(`${name}`, [...Object.keys(cases), 'field', 'phones'])
}
const kinds = (values.database ?? ['embedded', 'postgresql']) as ('embedded' | 'postgresql')[]
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => process.exit(130))
let losses = 0
for (const kind of kinds) {
  if (kind === 'postgresql' && !(await postgresAnswers())) {
    console.log('LEFT OUT  PostgreSQL: none answers.')
    continue
  }
  const ground = await prepare(kind, TREES, undefined, APART_M)
  for (const one of names) losses += await rounds(kind, ground, one)
  await ground.remove()
}
process.exit(losses > 0 ? 1 : 0)

function unknown(word: string, known: string[]): never {
  console.error(`There is no fault “${word}”. Known: ${known.join(', ')}.`)
  process.exit(2)
}

async function fieldThenExit(): Promise<never> {
  const known = Object.keys(fieldCases) as FieldName[]
  const chosen = known.filter((one) => !part || one === part)
  if (chosen.length === 0) unknown(`${part}`, known)
  const kind = values.database?.[0] ?? ((await postgresAnswers()) ? 'postgresql' : 'embedded')
  const bad = await field(
    chosen,
    Number(values.count),
    seededNumbers(Number(values.seed)),
    kind as 'embedded' | 'postgresql',
  )
  process.exit(bad > 0 ? 1 : 0)
}

async function rounds(
  kind: string,
  ground: Awaited<ReturnType<typeof prepare>>,
  one: keyof typeof cases,
): Promise<number> {
  const chance = seededNumbers(Number(values.seed))
  let span = spanMs[one]
  const count = { rounds: 0, 'at work': 0, 'after the end': 0, lost: 0 }
  while (count.rounds < Number(values.count)) {
    const killAfterMs = Math.round(chance() * span)
    const { died, lost } = await cases[one]({ ground, rows: ROWS, killAfterMs }).catch((error: Error) => ({
      died: 'at work' as const,
      lost: [error.message],
    }))
    count.rounds++
    count[died]++
    if (lost.length > 0) count.lost++
    // Work that was over is no proof: the next kills come sooner.
    if (died === 'after the end') span = killAfterMs
    for (const line of lost.slice(0, 5))
      console.log(`  LOST  ${kind} ${one}, killed after ${killAfterMs} ms: ${line}`)
  }
  console.log(
    `${kind.padEnd(11)} ${one.padEnd(13)} ${count.rounds} rounds, killed at work ${count['at work']}, after the end ${count['after the end']}, lost ${count.lost}`,
  )
  return count.lost
}

function postgresAnswers(): Promise<boolean> {
  const { hostname, port } = new URL(
    process.env.UNDERBOUGH_TEST_POSTGRES ?? 'postgres://postgres@127.0.0.1:5432/postgres',
  )
  return new Promise((resolve) => {
    const socket = createConnection({ host: hostname, port: Number(port || 5432), timeout: 2000 })
    socket.on('connect', () => resolve(true) ?? socket.destroy())
    for (const event of ['error', 'timeout']) socket.on(event, () => resolve(false) ?? socket.destroy())
  })
}
