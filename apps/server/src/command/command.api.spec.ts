import { spawnSync } from 'node:child_process'
import { randomUUID } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { tables } from '@underbough/db'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { databases, type Harness, startHarness } from '../testing/harness.ts'
import { command } from './command.ts'

const main = fileURLToPath(new URL('./main.ts', import.meta.url))
const fixture = (name: string) =>
  fileURLToPath(new URL(`../../../../fixtures/import/${name}`, import.meta.url))

describe.each(databases)('the command line, on %s', (kind) => {
  let harness: Harness
  const folder = mkdtempSync(join(tmpdir(), 'underbough-command-'))
  beforeAll(async () => {
    harness = await startHarness(kind)
  })
  afterAll(async () => {
    await harness?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  const run = async (...words: string[]) => {
    const printed: string[] = []
    const code = await command(words, {
      open: async () => harness.deps,
      close: async () => {},
      print: (line) => printed.push(line),
      complain: (line) => printed.push(line),
    })
    return { code, text: printed.join('\n') }
  }
  const stored = () => harness.deps.database.db.select().from(tables.tree)

  it('shows what an import would do and writes nothing until told to', async () => {
    const shown = await run('import', fixture('port-maud-2025.csv'), '--kind', 'trees')
    expect(shown.code).toBe(0)
    expect(shown.text).toMatch(/STRUCTID +sourceKey/)
    expect(shown.text).toContain('12 new, 0 changed')
    expect(shown.text).toContain('--yes')
    expect((await stored()).length).toBe(0)
    expect(await harness.deps.database.db.$count(tables.importRow)).toBe(0)

    expect(
      (await run('import', fixture('port-maud-2025.csv'), '--kind', 'trees', '--yes', '--preview')).code,
    ).toBe(0)
    expect((await stored()).length).toBe(0)
    const written = await run('import', fixture('port-maud-2025.csv'), '--kind', 'trees', '--yes')
    expect([written.code, (await stored()).length]).toEqual([0, 12])
    const newer = await run('import', fixture('port-maud-2026.csv'), '--kind', 'trees')
    expect(newer.text).toContain('1 new, 11 changed, 0 the same, 1 gone')
    expect(newer.text).toMatch(/PM-0002:.*stems 51 → 52/)
  })

  it('takes units, girths and columns from its words, and writes the refused rows to a file', async () => {
    const out = join(folder, 'refused.csv')
    const args = [
      '--kind',
      'trees',
      '--map',
      'Tag=ignore',
      '--map',
      'Tree ID=sourceKey',
      '--unit',
      'in',
      '--circumference',
      '--yes',
      '--refused',
      out,
    ]
    const done = await run('import', fixture('port-maud-bad-rows.csv'), ...args)
    expect(done.code, done.text).toBe(0)
    const tree = (await stored()).find((row) => row.sourceKey === 'T1')!
    // A girth of 48 inches is a diameter of 48 × 2.54 / π centimetres.
    expect(tree.stemDiameterCm).toBeCloseTo((48 * 2.54) / Math.PI, 1)
    expect(readFileSync(out, 'utf8').trim().split('\r\n').length).toBe(5)
  })

  it.runIf(kind === 'postgresql')('lets go of the database and ends by itself', async () => {
    const { sql } = harness.deps.database
    const name = `underbough_test_${randomUUID().slice(0, 8)}`
    await sql.unsafe(`create database ${name}`)
    const url = new URL(process.env.UNDERBOUGH_TEST_POSTGRES ?? 'postgres://postgres@127.0.0.1:5432/postgres')
    url.pathname = `/${name}`
    const env = { ...process.env, UNDERBOUGH_DATA: folder, DATABASE_URL: url.href }
    const ended = spawnSync(process.execPath, ['--import', 'tsx', main, 'migrate'], {
      encoding: 'utf8',
      env,
      timeout: 60_000,
    })
    await sql.unsafe(`drop database ${name} with (force)`)
    expect([ended.status, ended.stdout]).toEqual([0, 'The postgresql database is up to date.\n'])
  })

  it('lets a person sign in with the password it shows once, and gives no address twice', async () => {
    const words = [
      'add-person',
      '--name',
      'N. Fell',
      '--email',
      'n.fell@portmaud.example',
      '--role',
      'officer',
    ]
    const added = await run(...words)
    expect(added.code, added.text).toBe(0)
    const password = added.text.split('shown once: ')[1]!
    const answer = await harness.stranger('POST', '/session', { email: 'n.fell@portmaud.example', password })
    expect([answer.status, answer.body.me.role]).toEqual([200, 'officer'])
    expect(await run(...words)).toMatchObject({
      code: 1,
      text: expect.stringContaining('belongs to somebody'),
    })
    expect((await run('add-person', '--name', 'N. Fell', '--email', 'x', '--role', 'king')).code).toBe(1)
  })

  it('recomputes', async () => {
    expect(await run('recompute', 'due')).toEqual({ code: 0, text: 'Port Maud: due recomputed' })
    expect((await run('recompute', 'exposure')).code).toBe(0)
  })

  it.each([
    ['an unknown command', ['fetch'], 2, 'fetch'],
    ['no file', ['import', '--kind', 'trees'], 2, 'one file'],
    ['a file that is not there', ['import', 'nowhere.csv', '--kind', 'trees'], 2, 'nowhere.csv'],
    ['no kind', ['import', fixture('port-maud-2025.csv')], 2, '--kind'],
    ['an unknown option', ['import', 'a.csv', '--force'], 2, '--force'],
    [
      'a field that is none',
      ['import', fixture('port-maud-2025.csv'), '--kind', 'trees', '--map', 'SUFFIX=colour'],
      2,
      'COLUMN=FIELD',
    ],
    [
      'an unknown reference system',
      ['import', fixture('port-maud-2025.csv'), '--kind', 'trees', '--crs', 'EPSG:999999'],
      1,
      'crs-unknown',
    ],
    ['a file without rows', ['import', fixture('header-only.csv'), '--kind', 'trees'], 1, 'file-header-only'],
    [
      'another organisation',
      ['import', fixture('port-maud-2025.csv'), '--kind', 'trees', '--organisation', 'Elsewhere'],
      2,
      'Port Maud',
    ],
    ['nothing to recompute', ['recompute'], 2, 'exposure or due'],
  ])('leaves with a code and a reason on %s', async (_, words, code, reason) => {
    const answer = await run(...words)
    expect(answer.code, answer.text).toBe(code)
    expect(answer.text).toContain(reason)
  })
})

it('runs by itself: help, a new database, and a folder that another process holds', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'underbough-command-'))
  const run = (...words: string[]) =>
    spawnSync(process.execPath, ['--import', 'tsx', main, ...words], {
      encoding: 'utf8',
      env: { ...process.env, UNDERBOUGH_DATA: folder, DATABASE_URL: '' },
    })
  const help = run('help')
  expect([help.status, help.stdout.includes('recompute exposure|due')]).toEqual([0, true])
  const migrated = run('migrate')
  expect([migrated.status, migrated.stdout]).toEqual([0, 'The embedded database is up to date.\n'])
  const empty = run('import', fixture('port-maud-2025.csv'), '--kind', 'trees')
  expect([empty.status, empty.stderr.includes('no organisation')]).toEqual([2, true])
  const founded = run(
    'found',
    'Estate of Ostrel',
    '--time-zone',
    'Atlantic/St_Helena',
    '--hemisphere',
    'south',
  )
  expect([founded.status, founded.stderr]).toEqual([0, ''])
  expect(run('found', 'Nowhere', '--time-zone', 'Mid/Ocean', '--hemisphere', 'south').status).toBe(2)
  writeFileSync(join(folder, 'embedded', 'lock'), String(process.pid))
  const held = run('migrate')
  expect([held.status, held.stderr.includes(`in use by process ${process.pid}`)]).toEqual([1, true])
  rmSync(folder, { recursive: true, force: true })
})
