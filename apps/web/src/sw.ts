import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute } from 'workbox-precaching'
import { NavigationRoute, registerRoute } from 'workbox-routing'
import { cacheHere, keep, keptUnder } from './pack/cache.ts'
import { isInHand } from './shell/inHand.ts'

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: (string | { url: string })[] }

/** A tile that has not come by then is taken as it was kept, of whatever version. */
const SLOW_MS = 4000

// The whole client, so that every page opens without signal. Of the API only tiles and photos are answered here.
precacheAndRoute(self.__WB_MANIFEST)
cleanupOutdatedCaches()
registerRoute(new NavigationRoute(createHandlerBoundToURL('/index.html'), { denylist: [/^\/api\//] }))
registerRoute(
  ({ url, request, sameOrigin }) =>
    sameOrigin &&
    request.mode !== 'navigate' &&
    /^\/api\/(tiles\/(trees|ground)|photos)\//.test(url.pathname),
  ({ request }) => answer(request),
)

/** What the day pack keeps of this very address; else the office; else, without signal, an older version of the same tile. */
async function answer(request: Request): Promise<Response> {
  const cache = await cacheHere()
  const kept = cache ? await keptUnder(cache, request.url) : null
  if (!cache || !kept) return narrowedOrWhole(cache, request)
  if (kept.exact) return kept.response
  const office = fetch(asOffice(request))
  const newer = office.then(async (response) => {
    if (!response.ok) return null
    const body = await response.clone().blob()
    // Without room the older one stays; the page is served all the same.
    await keep(cache, request.url, body, response.headers.get('content-type') ?? '').catch(() => {})
    return response
  })
  const slow = new Promise<null>((resolve) => setTimeout(() => resolve(null), SLOW_MS))
  return (await Promise.race([newer, slow]).catch(() => null)) ?? kept.response
}

/** Without signal a narrowed tile is answered by the whole one, which the map narrows as far as it can. */
async function narrowedOrWhole(cache: Cache | null, request: Request): Promise<Response> {
  try {
    return await fetch(asOffice(request))
  } catch (error) {
    const { origin, pathname } = new URL(request.url)
    const whole = cache && /^\/api\/tiles\//.test(pathname) ? await keptUnder(cache, origin + pathname) : null
    if (!whole) throw error
    return whole.response
  }
}

/** A tile without its version: the browser asks whether the one it holds is still right, and mostly it is. */
function asOffice(request: Request): Request {
  const url = new URL(request.url)
  if (!url.pathname.startsWith('/api/tiles/') || !url.searchParams.has('v')) return request
  url.searchParams.delete('v')
  return new Request(url, { headers: request.headers, credentials: 'same-origin' })
}

self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()))

// A new version waits until a page says otherwise, and is refused while a window has a visit open.
self.addEventListener('message', (event) => {
  if (event.data === 'take') event.waitUntil(take(event))
  if (event.data === 'take-alone') event.waitUntil(takeAlone())
})

const windows = () => self.clients.matchAll({ type: 'window', includeUncontrolled: true })
async function take(event: ExtendableMessageEvent): Promise<void> {
  const busy = (await windows()).some((window) => isInHand(new URL(window.url).pathname))
  if (busy) (event.source as Client | null)?.postMessage('busy')
  else await self.skipWaiting()
}
async function takeAlone(): Promise<void> {
  if ((await windows()).length <= 1) await self.skipWaiting()
}
