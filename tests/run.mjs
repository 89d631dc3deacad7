// npm test: every suite that can run on this machine, and a loud word for each that cannot. In CI nothing may be left out.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { createConnection } from 'node:net'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = join(dirname(fileURLToPath(import.meta.url)), '..')
const ci = process.env.CI === 'true'
const leftOut = []
const run = (command, args) => spawnSync(command, args, { cwd: root, stdio: 'inherit' }).status === 0
const quiet = (command, args) =>
  spawnSync(command, args, {
    cwd: root,
    stdio: 'ignore',
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  }).status === 0

const rootOnDebian = process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')
function install(name) {
  if (!rootOnDebian) return false
  console.log(`Installing ${name} …`)
  return (
    quiet('apt-get', ['install', '-y', '-qq', name]) ||
    (quiet('apt-get', ['update', '-qq']) && quiet('apt-get', ['install', '-y', '-qq', name]))
  )
}

function chromium() {
  const known = [
    process.env.CHROMIUM,
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
  ].filter(Boolean)
  const found = () => known.find((path) => existsSync(path))
  return found() ?? (install('chromium') ? found() : undefined)
}

const admin = new URL(process.env.UNDERBOUGH_TEST_POSTGRES ?? 'postgres://postgres@127.0.0.1:5432/postgres')
function postgresAnswers() {
  return new Promise((resolve) => {
    const socket = createConnection({ host: admin.hostname, port: Number(admin.port || 5432), timeout: 2000 })
    socket.on('connect', () => resolve(true) ?? socket.destroy())
    for (const event of ['error', 'timeout']) socket.on(event, () => resolve(false) ?? socket.destroy())
  })
}
const postgis = () =>
  existsSync('/usr/share/postgresql/15/extension/postgis.control') ||
  !existsSync('/usr/share/postgresql/15') ||
  install('postgresql-15-postgis-3')

if (!run(process.execPath, ['apps/server/start.mjs', '--build-only'])) process.exit(1)

if (!quiet('xmllint', ['--version']) && !install('libxml2-utils'))
  leftOut.push('The schema of GPX: no xmllint was found, so a day’s file was held to its structure alone.')

const databases = ['embedded']
if ((await postgresAnswers()) && postgis()) databases.push('postgresql')
else
  leftOut.push(
    `PostgreSQL: none answers at ${admin.host}, so the API was tried on the embedded database alone.`,
  )

// Two cores are common: two lots of about one length run side by side, the words of one kept until the other has said its own.
const beside = ['published', 'api']
const first = ['unit']
const browser = chromium()
if (browser) first.push('browser')
else leftOut.push('The browser suite: no Chromium was found. Install one, or name it with CHROMIUM=/path.')

function suites(names, heard) {
  const child = spawn(
    'npx',
    [
      'vitest',
      'run',
      '--config',
      '.config/vitest.config.ts',
      '--passWithNoTests',
      ...names.flatMap((name) => ['--project', name]),
      ...process.argv.slice(2),
    ],
    {
      cwd: root,
      stdio: heard ? 'inherit' : ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, UNDERBOUGH_TEST_DATABASES: databases.join(','), CHROMIUM: browser ?? '' },
    },
  )
  const words = []
  child.stdout?.on('data', (part) => words.push(part))
  child.stderr?.on('data', (part) => words.push(part))
  return new Promise((resolve) =>
    child.on('close', (code) => resolve({ passed: code === 0, words: Buffer.concat(words) })),
  )
}
const both = [suites(first, true), suites(beside, false)]
const [main, api] = await Promise.all(both)
process.stdout.write(api.words)
const passed = main.passed && api.passed
console.log(
  `\n${first.join(', ')}: ${main.passed ? 'passed' : 'FAILED'}; ${beside.join(', ')}: ${api.passed ? 'passed' : 'FAILED'}`,
)
for (const line of leftOut) console.log(`\nLEFT OUT  ${line}`)
process.exit(passed && !(ci && leftOut.length > 0) ? 0 : 1)
