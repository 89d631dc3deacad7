import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gunzipSync } from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { client } from './client.ts'

const folder = mkdtempSync(join(tmpdir(), 'underbough-client-'))
mkdirSync(join(folder, 'assets'))
writeFileSync(join(folder, 'index.html'), '<title>page</title>')
writeFileSync(join(folder, 'sw.js'), 'worker')
writeFileSync(join(folder, 'assets/a-1.js'), 'script '.repeat(200))
writeFileSync(join(folder, 'assets/f.woff2'), 'font')

describe('the built client', () => {
  it('is packed for whom it may be, and fonts and pictures, packed already, are not', async () => {
    const script = await client(folder, '/assets/a-1.js', 'br, gzip')
    expect(script.headers.get('content-encoding')).toBe('gzip')
    expect(gunzipSync(new Uint8Array(await script.arrayBuffer())).toString()).toBe('script '.repeat(200))
    expect((await client(folder, '/assets/a-1.js', '')).headers.get('content-encoding')).toBeNull()
    expect((await client(folder, '/assets/f.woff2', 'gzip')).headers.get('content-encoding')).toBeNull()
  })

  it('keeps named files for ever and asks anew for the worker that decides about all others', async () => {
    expect((await client(folder, '/assets/a-1.js', 'gzip')).headers.get('cache-control')).toContain(
      'immutable',
    )
    expect((await client(folder, '/sw.js', 'gzip')).headers.get('cache-control')).toBe('no-cache')
  })

  it('gives its page for every place, and nothing from outside its folder', async () => {
    expect(await (await client(folder, '/trees/7', '')).text()).toBe('<title>page</title>')
    expect((await client(folder, '/gone.js', '')).status).toBe(404)
    expect((await client(folder, '/../../../../etc/hostname.json', '')).status).toBe(404)
  })
})
