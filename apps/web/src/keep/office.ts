import type { Office, Said, Uploaded } from '@underbough/field'
import { batchAnswer, type Refusal, refusal } from '@underbough/model'

/** Longer than any answer takes on a poor line; then the way counts as broken and the message is sent again. */
const patienceMs = 60_000

/** Who is signed in at the office, asked of the office itself. */
export interface SignedIn {
  personId: string
  role: string
}

/** One message to the office. Whatever is no answer of its own (a gateway, a guest network's door) counts as silence. */
async function say<T>(
  method: 'GET' | 'POST' | 'PUT',
  path: string,
  body: unknown,
  read: (answer: unknown) => T | null,
): Promise<Said<T>> {
  try {
    const bytes = body instanceof Uint8Array
    const response = await fetch(`/api${path}`, {
      method,
      credentials: 'same-origin',
      signal: AbortSignal.timeout(patienceMs),
      cache: 'no-store',
      headers:
        body === undefined ? {} : { 'content-type': bytes ? 'application/octet-stream' : 'application/json' },
      body: body === undefined ? undefined : bytes ? (body as Uint8Array<ArrayBuffer>) : JSON.stringify(body),
    })
    if (response.status === 401) return { said: 'signed-out' }
    if (response.status >= 502) return { said: 'nothing' }
    const json: unknown = await response.json()
    if (!response.ok) return no(response.status, json)
    const value = read(json)
    return value === null ? { said: 'nothing' } : { said: 'yes', value }
  } catch {
    return { said: 'nothing' }
  }
}

function no(status: number, json: unknown): Said<never> {
  const { refusals, received, current } = (json ?? {}) as {
    refusals?: Refusal[]
    received?: number
    current?: { received?: number }
  }
  const stands = received ?? current?.received
  return {
    said: 'no',
    status,
    refusals: Array.isArray(refusals) && refusals.length > 0 ? refusals : [refusal('unavailable')],
    ...(typeof stands === 'number' ? { received: stands } : {}),
  }
}

const readUploaded = (json: unknown): Uploaded | null => {
  const { received, whole } = (json ?? {}) as Partial<Uploaded>
  return typeof received === 'number' && typeof whole === 'boolean' ? { received, whole } : null
}

export const officeByHttp: Office = {
  batch: (input) => say('POST', '/entries', input, (json) => batchAnswer.safeParse(json).data ?? null),
  known: (keys) =>
    say('POST', '/entries/known', { keys }, (json) => {
      const { missing, officeMark } = (json ?? {}) as { missing?: string[]; officeMark?: number }
      return Array.isArray(missing) && typeof officeMark === 'number' ? { missing, officeMark } : null
    }),
  uploaded: (sha256) => say('GET', `/uploads/${sha256}`, undefined, readUploaded),
  upload: (sha256, from, of, piece) =>
    say('PUT', `/uploads/${sha256}?from=${from}&of=${of}`, piece, readUploaded),
}

export const askWho = (): Promise<Said<SignedIn>> =>
  say('GET', '/session', undefined, (json) => (json as { me?: SignedIn } | null)?.me ?? null)
