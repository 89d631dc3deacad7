import { type ChildProcess, spawn } from 'node:child_process'
import { createServer } from 'node:net'
import { fileURLToPath } from 'node:url'
import { type Account, emailOf, password } from './ground.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
const START_MS = 120_000

export interface Answer {
  status: number
  // biome-ignore lint/suspicious/noExplicitAny: a test looks into whatever came back
  body: any
}
export type Ask = (method: string, path: string, body?: unknown) => Promise<Answer>

/** A real server process on a loopback port. */
export interface Server {
  as(role: Account): Promise<Ask>
  /** Ends it without a word (SIGKILL). */
  kill(): Promise<void>
  /** Asks it to end (SIGTERM), as a person does with Ctrl+C. */
  stop(): Promise<void>
}

/** A port that nobody listens on at the moment. */
export const freePort = () =>
  new Promise<number>((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number }
      server.close(() => resolve(port))
    })
  })

/**
 * Starts the program as npm start does and waits until it answers. Throws with its last words when it does not. With a `port`
 * the next one can stand where this one stood.
 */
export async function startServer(env: Record<string, string>, port?: number): Promise<Server> {
  port ??= await freePort()
  const child = spawn(process.execPath, ['--import', 'tsx', 'apps/server/src/main.ts'], {
    cwd: root,
    env: { ...process.env, ...env, HOST: '127.0.0.1', PORT: String(port), BASE_URL: '' },
    stdio: ['ignore', 'ignore', 'pipe'],
  })
  const withUs = () => child.kill('SIGKILL')
  process.once('exit', withUs)
  child.once('exit', () => process.off('exit', withUs))
  let words = ''
  child.stderr!.on('data', (data) => {
    words = (words + data).slice(-4000)
  })
  const address = `http://127.0.0.1:${port}`
  const until = Date.now() + START_MS
  while (!(await answers(address))) {
    if (child.exitCode !== null || Date.now() > until) {
      await end(child, 'SIGKILL')
      throw new Error(`The server did not start. ${words}`)
    }
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  return {
    as: (role) => signIn(address, role),
    kill: () => end(child, 'SIGKILL'),
    stop: () => end(child, 'SIGTERM'),
  }
}

const answers = (address: string) =>
  fetch(`${address}/api/health`).then(
    (response) => response.ok,
    () => false,
  )

function end(child: ChildProcess, signal: 'SIGKILL' | 'SIGTERM'): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve()
  return new Promise((resolve) => {
    child.once('exit', () => resolve())
    child.kill(signal)
  })
}

async function signIn(address: string, role: Account): Promise<Ask> {
  const ask =
    (cookie: string): Ask =>
    async (method, path, body) => {
      const asIs = body instanceof FormData || body instanceof Blob
      const response = await fetch(`${address}/api${path}`, {
        method,
        headers: { cookie, ...(body && !asIs ? { 'content-type': 'application/json' } : {}) },
        body: asIs ? body : body === undefined ? undefined : JSON.stringify(body),
      })
      if (!response.ok && response.status >= 500) throw new Error(`${path}: ${await response.text()}`)
      const text = await response.text()
      return { status: response.status, body: text ? JSON.parse(text) : null }
    }
  const response = await fetch(`${address}/api/session`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ email: emailOf(role), password }),
  })
  if (!response.ok) throw new Error(`Nobody could sign in: ${await response.text()}`)
  return ask(response.headers.getSetCookie()[0]!.split(';')[0]!)
}
