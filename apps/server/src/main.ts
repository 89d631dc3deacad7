import { resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { serve } from '@hono/node-server'
import { demoPassword } from '@underbough/db'
import { createApp } from './app.ts'
import { ensureDemo } from './demo.ts'
import { closeDeps, openDeps } from './deps.ts'
import { demoMembers } from './session/queries.ts'

const hostname = process.env.HOST ?? '127.0.0.1'
const port = Number(process.env.PORT ?? 4317)
const address = process.env.BASE_URL ?? `http://${hostname}:${port}`
const webFolder = resolve(
  process.env.UNDERBOUGH_WEB ?? fileURLToPath(new URL('../../web/dist', import.meta.url)),
)

const deps = await openDeps(address).catch((error: Error) => {
  console.error(`Underbough did not start. ${error.message}`)
  process.exit(1)
})
const made = await ensureDemo(deps)
if (made) console.log(`The demo island is loaded: ${made.trees} trees, ${made.zones} target zones.`)

const server = serve({ fetch: createApp(deps, webFolder).fetch, hostname, port }, () => void greet())

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
    await closeDeps(deps)
    process.exit(0)
  })
