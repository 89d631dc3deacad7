import { createConnection, createServer, type Socket } from 'node:net'

/** What a request has to look like, by its first line: `POST /api/entries HTTP/1.1`. */
export type Which = RegExp

/** A request as it left a phone, whole. */
export interface Heard {
  first: string
  headers: Record<string, string>
  body: Buffer
  /** The office has begun to answer, or the connection is gone. */
  over: Promise<void>
}

/** The line between phones and the office: one address that stays, whatever becomes of the server behind it. */
export interface Line {
  address: string
  /** Times that a fault met a request or a connection, since the last change of weather. */
  hits(): number
  /** Everything goes through. */
  pass(): void
  /** No signal: whoever calls is cut off at once. */
  refuse(): void
  /** Every connection falls each so many milliseconds, whatever it carries. */
  dropEvery(ms: number): void
  /** Such a request reaches the office and is answered; the answer is thrown away and the connection falls. */
  swallowAnswer(which: Which, times?: number): void
  /** Such a request is cut off after so many of its bytes. */
  cutAfter(bytes: number, which: Which, times?: number): void
  /** Nothing comes through in one direction, and nobody is told: `out` from the phone, `in` to it. */
  deaf(direction: 'out' | 'in'): void
  /** Called with each whole request of the kind, before the office has it. */
  listen(which: Which, heard: (request: Heard) => void): void
  close(): Promise<void>
}

type Weather =
  | { kind: 'pass' | 'refuse' }
  | { kind: 'deaf'; direction: 'out' | 'in' }
  | { kind: 'swallow'; which: Which; times: number }
  | { kind: 'cut'; which: Which; bytes: number; times: number }

/** Opens a line on a free loopback port to the server's port, which may be empty for a while. */
export async function openLine(serverPort: number): Promise<Line> {
  let weather: Weather = { kind: 'pass' }
  let hits = 0
  let timer: ReturnType<typeof setInterval> | null = null
  const pairs = new Set<[Socket, Socket]>()
  const ears: { which: Which; heard: (request: Heard) => void }[] = []
  const dropAll = () => {
    for (const pair of pairs) for (const socket of pair) socket.destroy()
  }
  const turn = (next: Weather) => {
    if (timer) clearInterval(timer)
    timer = null
    hits = 0
    weather = next
  }

  const server = createServer((phone) => {
    if (weather.kind === 'refuse') {
      hits++
      phone.destroy()
      return
    }
    const office = createConnection({ host: '127.0.0.1', port: serverPort })
    const pair: [Socket, Socket] = [phone, office]
    pairs.add(pair)
    let answered = () => {}
    const end = () => {
      pairs.delete(pair)
      phone.destroy()
      office.destroy()
      answered()
    }
    let swallowing = false
    let left = Number.POSITIVE_INFINITY
    const gather = gatherer(ears, () => new Promise((resolve) => (answered = resolve)))
    phone.on('data', (bytes) => {
      const first = firstLine(bytes)
      if (first) {
        if (weather.kind === 'swallow' && weather.times > 0 && weather.which.test(first)) {
          weather.times--
          hits++
          swallowing = true
        }
        if (weather.kind === 'cut' && weather.times > 0 && weather.which.test(first)) {
          weather.times--
          hits++
          left = weather.bytes
        }
      }
      gather(bytes, first)
      if (weather.kind === 'deaf' && weather.direction === 'out') {
        hits++
        return
      }
      if (left < Number.POSITIVE_INFINITY) {
        office.write(bytes.subarray(0, left))
        left -= bytes.length
        if (left <= 0) setTimeout(end, 20)
        return
      }
      office.write(bytes)
    })
    office.on('data', (bytes) => {
      answered()
      // The office has done its work once it begins to answer.
      if (swallowing) return end()
      if (weather.kind === 'deaf' && weather.direction === 'in') {
        hits++
        return
      }
      phone.write(bytes)
    })
    for (const socket of pair) for (const event of ['close', 'error'] as const) socket.on(event, end)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as { port: number }
  return {
    address: `http://127.0.0.1:${port}`,
    hits: () => hits,
    pass: () => {
      turn({ kind: 'pass' })
      // Connections that a fault left hanging would hang on.
      dropAll()
    },
    refuse: () => {
      turn({ kind: 'refuse' })
      dropAll()
    },
    dropEvery: (ms) => {
      turn({ kind: 'pass' })
      timer = setInterval(() => {
        hits += pairs.size
        dropAll()
      }, ms)
    },
    swallowAnswer: (which, times = Number.POSITIVE_INFINITY) => turn({ kind: 'swallow', which, times }),
    cutAfter: (bytes, which, times = Number.POSITIVE_INFINITY) => turn({ kind: 'cut', which, bytes, times }),
    deaf: (direction) => turn({ kind: 'deaf', direction }),
    listen: (which, heard) => void ears.push({ which, heard }),
    close: () => {
      turn({ kind: 'refuse' })
      dropAll()
      return new Promise((resolve) => server.close(() => resolve()))
    },
  }
}

/** The first line of a request that begins in these bytes. Browsers do not begin a second one before the first is answered. */
function firstLine(bytes: Buffer): string | null {
  const found = /^(?:GET|HEAD|POST|PUT|DELETE|OPTIONS) \S+ HTTP\/1\.1(?=\r\n)/.exec(
    bytes.subarray(0, 4096).toString('latin1'),
  )
  return found?.[0] ?? null
}

/** Puts the bytes of requests together again for those who listen. */
function gatherer(ears: { which: Which; heard: (request: Heard) => void }[], untilOver: () => Promise<void>) {
  let open: { mine: typeof ears; first: string; bytes: Buffer } | null = null
  return (bytes: Buffer, first: string | null) => {
    if (first) {
      const mine = ears.filter(({ which }) => which.test(first))
      open = mine.length > 0 ? { mine, first, bytes: Buffer.alloc(0) } : null
    }
    if (!open) return
    open.bytes = Buffer.concat([open.bytes, bytes])
    const end = open.bytes.indexOf('\r\n\r\n')
    if (end < 0) return
    const headers = Object.fromEntries(
      open.bytes
        .subarray(0, end)
        .toString('latin1')
        .split('\r\n')
        .slice(1)
        .map((line) => [
          line.slice(0, line.indexOf(':')).toLowerCase(),
          line.slice(line.indexOf(':') + 1).trim(),
        ]),
    )
    const body = open.bytes.subarray(end + 4)
    if (body.length < Number(headers['content-length'] ?? 0)) return
    const { mine, first: line } = open
    open = null
    const over = untilOver()
    for (const { heard } of mine) heard({ first: line, headers, body, over })
  }
}
