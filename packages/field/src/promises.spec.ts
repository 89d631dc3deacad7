import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

const root = fileURLToPath(new URL('../../..', import.meta.url))
const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8')
const promises = [...readme.matchAll(/^\d\. \*\*[\s\S]*?(?=^\d\. \*\*|^All of them)/gm)].map(([text]) => text)
const named = [...readme.matchAll(/`([\w/.-]+\.spec\.ts)`: “([^”]+)”/g)].map(([, file, name]) => ({
  file: file!,
  name: name!,
}))

describe('the promises in print', () => {
  it('are eight, and each names a test', () => {
    expect(promises).toHaveLength(8)
    for (const promise of promises) expect(promise).toMatch(/\.spec\.ts`: “/)
  })

  it.each(named)('$file has “$name”', ({ file, name }) => {
    const path = `${root}/${file}`
    expect(existsSync(path)).toBe(true)
    const tests = [...readFileSync(path, 'utf8').matchAll(/\bit\(\s*(['"])(.*?)\1,/g)].map(
      ([, , said]) => said,
    )
    expect(tests).toContain(name)
  })
})
