import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { dayToGpx, type GpxDay, geoAddress } from '@underbough/exchange/gpx'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

/*
 * GPX 1.1 Schema Documentation (topografix.com/GPX/1/1): wptType and rteType are sequences, so the order of elements counts; latitude
 * −90 to 90, longitude −180 to below 180. Checked by the schema itself where it and xmllint are at hand, and by structure always.
 * XML 1.0 (W3C Recommendation), productions [2] Char and [10] AttValue. `geo:` addresses: RFC 5870, section 3.3.
 */
const schema = new URL('../../../shared/reference/gpx11.xsd', import.meta.url).pathname
const hasSchema = existsSync(schema) && spawnSync('xmllint', ['--version']).status === 0

const awkward: GpxDay = {
  name: 'Crew “B” & co <1 Dec>',
  description: 'Łódź oak\u0000, "quoted", it\'s ]]> \ud800 broken, \u{1f333}',
  madeAt: '2026-11-25T12:00:00.000Z',
  places: [
    { longitude: 180, latitude: -90, name: '0417', description: '' },
    { longitude: -8.25, latitude: 1e-7, name: '<b>', description: 'line\none' },
  ],
  way: [{ longitude: -1.5e-7, latitude: 90, name: '0417 & 0418', description: 'Advanced, overdue' }],
}
const days = fc.record({
  name: fc.string({ unit: 'binary' }),
  description: fc.string({ unit: 'binary' }),
  madeAt: fc
    .date({ min: new Date('1970-01-01'), max: new Date('2200-01-01'), noInvalidDate: true })
    .map((date) => date.toISOString()),
  places: fc.array(
    fc.record({
      longitude: fc.double({ min: -180, max: 180, noNaN: true }),
      latitude: fc.double({ min: -90, max: 90, noNaN: true }),
      name: fc.string({ unit: 'binary' }),
      description: fc.string({ unit: 'binary' }),
    }),
    { maxLength: 4 },
  ),
})

describe('a day as GPX 1.1', () => {
  it('keeps the order of the schema and says each place once on each list', () => {
    const text = dayToGpx(awkward)
    const names = [...text.matchAll(/<(\w+)[\s>]/g)].map((m) => m[1])
    expect(names).toEqual(
      'gpx metadata name desc time wpt name wpt name desc rte name desc rtept name desc'.split(' '),
    )
    expect(text).toContain('xmlns="http://www.topografix.com/GPX/1/1"')
    expect(text).toContain('<wpt lat="-90" lon="-180">')
    expect(text).toContain('lat="0.0000001" lon="-8.25"')
  })
  it('writes text that XML can hold, and nothing that ends an element early', () => {
    const text = dayToGpx(awkward)
    expect(text).toContain('Crew “B” &amp; co &lt;1 Dec&gt;')
    expect(text).toContain('Łódź oak, &quot;quoted&quot;, it&apos;s ]]&gt;  broken, \u{1f333}')
    fc.assert(
      fc.property(days, (day) => {
        const written = dayToGpx({ ...day, way: day.places })
        // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters that must not be there
        expect(written).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/)
        expect(written.replaceAll(/&(amp|lt|gt|quot|apos);/g, '')).not.toContain('&')
        expect(written.match(/<wpt /g)?.length ?? 0).toBe(day.places.length)
        for (const [, value] of written.matchAll(/(?:lat|lon)="([^"]*)"/g))
          expect(value).toMatch(/^-?\d+(\.\d+)?$/)
      }),
      { seed: 11 },
    )
  })
  it.skipIf(!hasSchema)('is valid by the published schema, as xmllint reads it', () => {
    const folder = mkdtempSync(join(tmpdir(), 'gpx-'))
    const samples = [
      awkward,
      ...fc.sample(days, { seed: 5, numRuns: 40 }).map((d) => ({ ...d, way: d.places })),
    ]
    const files = samples.map((day, i) => {
      const file = join(folder, `${i}.gpx`)
      writeFileSync(file, dayToGpx(day))
      return file
    })
    const judged = spawnSync('xmllint', ['--nonet', '--noout', '--schema', schema, ...files], {
      encoding: 'utf8',
    })
    expect(judged.stderr.split('\n').filter((line) => line && !line.endsWith(' validates'))).toEqual([])
    expect(judged.status).toBe(0)
  })
})

describe('a place for the phone’s own map', () => {
  it('is written as RFC 5870 has it: latitude first, decimals without an exponent', () => {
    // The example of RFC 5870, section 1 (from memory).
    expect(geoAddress([16.3695, 48.201])).toBe('geo:48.201,16.3695')
    expect(geoAddress([-1e-7, -0])).toBe('geo:0,-0.0000001')
  })
})
