// The one entry: brings a fresh clone to a served page. It stands on Node alone, since nothing is installed yet.
import { spawn, spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = join(dirname(fileURLToPath(import.meta.url)), '../..')
const [major, minor] = process.versions.node.split('.').map(Number)
if (major < 20 || (major === 20 && minor < 19))
  stop(`Underbough needs Node 20.19 or newer; this is ${process.versions.node}.`)

function stop(sentence) {
  console.error(sentence)
  process.exit(1)
}

function run(words, command, args) {
  console.log(words)
  const { status } = spawnSync(command, args, {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
  })
  if (status !== 0)
    stop(`${words} did not work; what is printed above says why. Mend that and run npm start again.`)
}

/** Does a step only when what it depends on has changed since it was last done. */
function whenChanged(markPath, files, step) {
  const digest = createHash('sha256')
  for (const file of files) digest.update(file).update(readFileSync(file))
  const now = digest.digest('hex')
  if (existsSync(markPath) && readFileSync(markPath, 'utf8') === now) return
  step()
  writeFileSync(markPath, now)
}

function filesUnder(folder) {
  return readdirSync(folder)
    .filter((name) => !['node_modules', 'dist', '.data'].includes(name))
    .sort()
    .flatMap((name) => {
      const path = join(folder, name)
      return statSync(path).isDirectory() ? filesUnder(path) : [path]
    })
}

const installed = join(root, 'node_modules/.underbough-installed')
if (!existsSync(join(root, 'node_modules/tsx'))) run('Installing …', 'npm', ['ci', '--no-audit', '--no-fund'])
whenChanged(installed, [join(root, 'package-lock.json')], () =>
  run('Looking after what is installed …', 'npm', ['install', '--no-audit', '--no-fund', '--no-save']),
)
whenChanged(
  join(root, 'node_modules/.underbough-built'),
  [
    ...filesUnder(join(root, 'apps/web')),
    ...filesUnder(join(root, 'packages')),
    join(root, 'package-lock.json'),
  ],
  () => run('Building the client …', 'npx', ['vite', 'build', 'apps/web', '--logLevel', 'warn']),
)
if (!process.argv.includes('--build-only')) {
  const server = spawn(
    process.execPath,
    ['--import', 'tsx', 'apps/server/src/main.ts', ...process.argv.slice(2)],
    {
      cwd: root,
      stdio: 'inherit',
    },
  )
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => server.kill(signal))
  server.on('exit', (code) => process.exit(code ?? 1))
}
