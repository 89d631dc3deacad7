import { createServer } from 'node:https'
import { resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { serve } from '@hono/node-server'
import { demoPassword } from '@underbough/db'
import { createApp } from './app.ts'
import { ensureDemo } from './demo.ts'
import { closeDeps, helpOthers, openDeps } from './deps.ts'
import { demoMembers } from './session/queries.ts'
import { readTls, type Tls } from './tls.ts'

const hostname = process.env.HOST ?? '127.0.0.1'
const port = Number(process.env.PORT ?? 4317)
const tls = namedTls()
const address = process.env.BASE_URL ?? `${tls ? 'https' : 'http'}://${hostname}:${port}`
const webFolder = resolve(
  process.env.UNDERBOUGH_WEB ?? fileURLToPath(new URL('../../web/dist', import.meta.url)),
)

const deps = await openDeps(address).catch(stop)
const made = await ensureDemo(deps)
if (made) console.log(`The demo island is loaded: ${made.trees} trees, ${made.zones} target zones.`)

const stopHelping = helpOthers(deps)
const { fetch } = createApp(deps, webFolder)
const server = serve(
  { fetch, hostname, port, ...(tls ? { createServer, serverOptions: { ...tls } } : {}) },
  () => void greet(),
)
server.on('error', (error) => stop(error))

/** Says why and ends: nothing was served. */
function stop(error: Error): never {
  console.error(`Underbough did not start. ${error.message}`)
  process.exit(1)
}

/** Named by --cert and --key, or by TLS_CERT and TLS_KEY; paths begin where the person stood. */
function namedTls(): Tls | null {
  try {
    const { values } = parseArgs({ options: { cert: { type: 'string' }, key: { type: 'string' } } })
    const { TLS_CERT: cert, TLS_KEY: key, INIT_CWD } = process.env
    return readTls({ cert: values.cert ?? cert, key: values.key ?? key }, INIT_CWD)
  } catch (error) {
    return stop(error as Error)
  }
}

async function greet() {
  console.log(`\nUnderbough answers at ${address}  (${deps.database.kind} database)`)
  const people = await demoMembers(deps.database.db)
  if (people.length === 0) return
  console.log(`Sign in as one of the demo's people; the password is “${demoPassword}”:`)
  for (const { role, name, email } of people) console.log(`  ${role.padEnd(10)} ${name.padEnd(14)} ${email}`)
  console.log('Stop with Ctrl+C.')
}

let stopping = false
for (const signal of ['SIGINT', 'SIGTERM'] as const)
  process.on(signal, async () => {
    if (stopping) process.exit(1)
    stopping = true
    server.close()
    await stopHelping()
    await closeDeps(deps)
    process.exit(0)
  })
