import { noSignal, readProblem } from './problem.ts'

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

async function ask<T>(method: string, url: string, body?: unknown, signal?: AbortSignal): Promise<T> {
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
    if (signal?.aborted) throw error
    throw noSignal()
  }
  if (answer.status === 204) return undefined as T
  const type = answer.headers.get('content-type') ?? ''
  const read = type.includes('json') ? await answer.json().catch(() => null) : null
  if (!answer.ok) throw readProblem(answer.status, read)
  return read as T
}

/** The five verbs over /api. Each throws `Refused` when the answer is no. */
export const api = {
  get: <T>(path: string, query?: Query, signal?: AbortSignal) =>
    ask<T>('GET', address(path, query), undefined, signal),
  post: <T>(path: string, body: unknown = {}) => ask<T>('POST', address(path), body),
  put: <T>(path: string, body: unknown) => ask<T>('PUT', address(path), body),
  delete: <T>(path: string) => ask<T>('DELETE', address(path)),
  /** Multipart, for files. */
  send: <T>(path: string, form: FormData) => ask<T>('POST', address(path), form),
}
