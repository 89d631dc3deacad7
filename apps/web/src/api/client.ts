import { type KeptAnswer, keptAnswer, SLOW_MS, tellAsOf } from './kept.ts'
import { isSilence, noSignal, Refused, readProblem } from './problem.ts'

type Query = Record<string, string | number | boolean | readonly string[] | null | undefined>

/** A path under /api with its query; empty values are left out, lists are joined by commas. */
export function address(path: string, query: Query = {}): string {
  const words = new URLSearchParams()
  for (const [name, value] of Object.entries(query)) {
    if (value === null || value === undefined || value === '' || value === false) continue
    if (Array.isArray(value) && value.length === 0) continue
    words.set(name, Array.isArray(value) ? value.join(',') : String(value))
  }
  const tail = words.toString()
  return `/api${path}${tail ? `?${tail}` : ''}`
}

/** One question to the office, and to nobody else. */
export async function ask<T>(method: string, url: string, body?: unknown, signal?: AbortSignal): Promise<T> {
  const form = body instanceof FormData
  let answer: Response
  try {
    answer = await fetch(url, {
      method,
      signal,
      credentials: 'same-origin',
      headers: body === undefined || form ? {} : { 'content-type': 'application/json' },
      body: body === undefined ? undefined : form ? body : JSON.stringify(body),
    })
  } catch (error) {
    if (signal?.aborted) throw signal.reason ?? error
    throw noSignal()
  }
  if (answer.status === 204) return undefined as T
  const type = answer.headers.get('content-type') ?? ''
  const read = type.includes('json') ? await answer.json().catch(() => null) : null
  if (!answer.ok) throw readProblem(answer.status, read)
  // A page put in between, such as the door of a guest network, is no answer of the office.
  if (read === null) throw noSignal()
  return read as T
}

const signedOutListeners = new Set<() => void>()
/** Calls back when the office answers that nobody is signed in. Answers how to stop. */
export function onSignedOut(listener: () => void): () => void {
  signedOutListeners.add(listener)
  return () => signedOutListeners.delete(listener)
}

const isSignedOut = (error: unknown) => error instanceof Refused && error.status === 401

/** From the office; where it is silent, slow or asks to sign in first, what this device keeps under the same address. */
async function read<T>(url: string, signal?: AbortSignal): Promise<T> {
  const kept = await keptAnswer(url)
  const office = ask<T>('GET', url, undefined, signal).catch((error: unknown) => {
    if (isSignedOut(error)) for (const listener of signedOutListeners) listener()
    throw error
  })
  return kept ? firstOf(url, office, kept) : office
}

async function firstOf<T>(url: string, office: Promise<T>, kept: KeptAnswer): Promise<T> {
  const fresh = office.then((answer) => {
    tellAsOf(url, null)
    // Without room the older one stays; the page has its answer all the same.
    void kept.renew(answer).catch(() => {})
    return { answer }
  })
  let timer: ReturnType<typeof setTimeout> | undefined
  const slow = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), SLOW_MS)
  })
  const first = await Promise.race([fresh, slow])
    .catch((error: unknown) => {
      if (isSilence(error) || isSignedOut(error)) return null
      throw error
    })
    .finally(() => clearTimeout(timer))
  if (first) return first.answer
  fresh.catch(() => {})
  tellAsOf(url, kept.at)
  return (await kept.read()) as T
}

/** The five verbs over /api. Each throws `Refused` when the answer is no; a reading may come from this device (see `useAsOf`). */
export const api = {
  get: <T>(path: string, query?: Query, signal?: AbortSignal) => read<T>(address(path, query), signal),
  post: <T>(path: string, body: unknown = {}) => ask<T>('POST', address(path), body),
  put: <T>(path: string, body: unknown) => ask<T>('PUT', address(path), body),
  delete: <T>(path: string) => ask<T>('DELETE', address(path)),
  /** Multipart, for files. */
  send: <T>(path: string, form: FormData) => ask<T>('POST', address(path), form),
}
