import type { Page } from 'playwright-core'

/** What a device keeps, read from its own database past the program. */
export interface Kept {
  waiting: number
  refused: number
  sent: number
  /** Kind, state and author of each entry, oldest first. */
  entries: { kind: string; state: string; authorId: string; tries: number; codes: string[] }[]
  /** Digest by which each file is kept, and the digest of its bytes as they lie there. */
  files: { name: string; sha256: string }[]
}

/** Reads the device's database; null where there is none yet. With `bytes` the files are read and digested too. */
export async function readDevice(page: Page, bytes = false): Promise<Kept | null> {
  const read = await page.evaluate(inPage, bytes)
  if (!read) return null
  const count = (state: string) => read.entries.filter((entry) => entry.state === state).length
  return { ...read, waiting: count('waiting'), refused: count('refused'), sent: count('sent') }
}

async function inPage(bytes: boolean) {
  if (!(await indexedDB.databases()).some(({ name }) => name === 'underbough')) return null
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    const asked = indexedDB.open('underbough')
    asked.onsuccess = () => resolve(asked.result)
    asked.onerror = () => reject(asked.error)
  })
  // An update of the program must not wait for this reader.
  database.onversionchange = () => database.close()
  try {
    const stores = ['entries', 'files'].filter((name) => database.objectStoreNames.contains(name))
    const [entries = [], files = []] = await Promise.all(
      stores.map(
        (name) =>
          // biome-ignore lint/suspicious/noExplicitAny: rows as they lie there
          new Promise<any[]>((resolve, reject) => {
            const asked = database.transaction(name).objectStore(name).getAll()
            asked.onsuccess = () => resolve(asked.result)
            asked.onerror = () => reject(asked.error)
          }),
      ),
    )
    const digested: { name: string; sha256: string }[] = []
    for (const { sha256, file } of bytes ? files : []) {
      const digest = await crypto.subtle.digest('SHA-256', await file.arrayBuffer())
      digested.push({
        name: sha256,
        sha256: Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join(''),
      })
    }
    return {
      entries: entries.map(({ kind, state, authorId, tries, refusals }) => ({
        kind: String(kind),
        state: String(state),
        authorId: String(authorId),
        tries: Number(tries),
        codes: (refusals ?? []).map((one: { code: string }) => one.code) as string[],
      })),
      files: digested,
    }
  } finally {
    database.close()
  }
}

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** Waits until nothing of the device waits any more. Throws with what still does. */
export async function drained(page: Page, patienceMs = 120_000): Promise<Kept> {
  for (const end = Date.now() + patienceMs; ; await wait(300)) {
    const kept = await readDevice(page).catch(() => null)
    if (kept && kept.waiting === 0) return kept
    if (Date.now() > end) {
      const left = kept?.entries.filter(({ state }) => state === 'waiting') ?? []
      throw new Error(
        `${left.length} entries still wait: ${[...new Set(left.map((e) => `${e.kind} after ${e.tries} tries`))].join(', ')}`,
      )
    }
  }
}
