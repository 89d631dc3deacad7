/**
 * What the browser's Cache Storage keeps of the office, read by the page and by the service worker alike. One cache a person: on a
 * shared phone nobody is answered from what another person fetched.
 */
const whoCache = 'underbough-who'
const whoAddress = '/who'
const keptName = (personId: string) => `underbough-kept-${personId}`

/** Where there is no Cache Storage (a page without HTTPS) nothing is kept and nothing breaks. */
export const canKeep = (): boolean => typeof caches !== 'undefined'

/** Whose cache answers on this device; null for nobody's. */
export async function sayWho(personId: string | null): Promise<void> {
  if (!canKeep()) return
  const cache = await caches.open(whoCache)
  if (personId) await cache.put(whoAddress, new Response(personId))
  else await cache.delete(whoAddress)
}

/** The cache of the person who is here now; null where nobody is. */
export async function cacheHere(): Promise<Cache | null> {
  if (!canKeep()) return null
  const who = await (await caches.open(whoCache)).match(whoAddress)
  return who ? caches.open(keptName(await who.text())) : null
}

export const cacheOf = (personId: string): Promise<Cache> => caches.open(keptName(personId))

/** Clears everything fetched for a person from this device. */
export async function clearKept(personId: string): Promise<void> {
  if (canKeep()) await caches.delete(keptName(personId))
}

const atHeader = 'underbough-kept-at'
const versionHeader = 'underbough-version'

/** A tile's version is part of its address at the office, but not of the name it is kept under: one of each tile, the newest. */
export function keptNameOf(address: string): { name: string; version: string | null } {
  const url = new URL(address, location.origin)
  if (!url.pathname.startsWith('/api/tiles/') || url.pathname === '/api/tiles/version')
    return { name: url.pathname + url.search, version: null }
  const version = url.searchParams.get('v')
  url.searchParams.delete('v')
  return { name: url.pathname + url.search, version }
}

/** Keeps a body under an address, with the time. Throws where the device has no room. */
export async function keep(cache: Cache, address: string, body: Blob | string, type: string): Promise<void> {
  const { name, version } = keptNameOf(address)
  const headers = {
    'content-type': type,
    [atHeader]: new Date().toISOString(),
    ...(version ? { [versionHeader]: version } : {}),
  }
  await cache.put(name, new Response(body, { headers }))
}

/** What is kept under an address: `exact` says that it is the very version asked for. */
export async function keptUnder(
  cache: Cache,
  address: string,
): Promise<{ response: Response; at: Date; exact: boolean } | null> {
  const { name, version } = keptNameOf(address)
  const response = await cache.match(name)
  if (!response) return null
  return {
    response,
    at: new Date(response.headers.get(atHeader) ?? 0),
    exact: response.headers.get(versionHeader) === version,
  }
}
