import type { Begun } from './types.ts'

const key = (id: string) => `underbough.import.${id}`

/** Keeps what the server saw in a file for as long as this window is open. */
export function keepBegun(begun: Begun): void {
  try {
    sessionStorage.setItem(key(begun.importId), JSON.stringify(begun))
  } catch {
    // A browser that keeps nothing asks for the file again after a reload.
  }
}

/** What was seen in the file of an import; null once the window was closed. */
export function begunOf(id: string): Begun | null {
  try {
    const kept = sessionStorage.getItem(key(id))
    return kept ? (JSON.parse(kept) as Begun) : null
  } catch {
    return null
  }
}
