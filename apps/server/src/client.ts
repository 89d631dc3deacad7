import { readFile } from 'node:fs/promises'
import { extname, join, normalize } from 'node:path'
import { promisify } from 'node:util'
import { gzip } from 'node:zlib'

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
}
const packed = new Set(['.png', '.woff2'])
const zip = promisify(gzip)
/** Files under /assets bear a digest in their name and never change: each is packed once. */
const zipped = new Map<string, Promise<Buffer>>()

/** A file of the built client, or its page for every address that is a place in it. */
export async function client(folder: string, path: string, accepts: string): Promise<Response> {
  const file = normalize(join(folder, path))
  const type = types[extname(file)]
  const inside = file.startsWith(folder) && type !== undefined
  const found = inside ? await readFile(file).catch(() => null) : null
  if (found) {
    const forever = path.startsWith('/assets/')
    const caching = forever ? 'public, max-age=31536000, immutable' : 'no-cache'
    if (packed.has(extname(file)) || !/\bgzip\b/.test(accepts)) return answer(found, type!, caching)
    const body = await (forever ? once(file, found) : zip(found))
    return answer(body, type!, caching, { 'content-encoding': 'gzip', vary: 'accept-encoding' })
  }
  if (extname(path)) return words(404, 'Not here')
  const page = await readFile(join(folder, 'index.html')).catch(() => null)
  return page
    ? answer(page, types['.html']!, 'no-cache')
    : words(503, 'The client is not built. Run npm start.')
}

function once(file: string, content: Buffer): Promise<Buffer> {
  const known = zipped.get(file) ?? zip(content)
  zipped.set(file, known)
  return known
}

const answer = (body: Buffer, type: string, caching: string, more: Record<string, string> = {}) =>
  new Response(new Uint8Array(body), { headers: { 'content-type': type, 'cache-control': caching, ...more } })
const words = (status: number, text: string) =>
  new Response(text, { status, headers: { 'content-type': 'text/plain; charset=utf-8' } })
