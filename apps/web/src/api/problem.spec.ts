import { refusalCodes } from '@underbough/model'
import { describe, expect, it } from 'vitest'
import { address } from './client.ts'
import { Refused, readProblem, refusalsOf } from './problem.ts'

// RFC 9457, "Problem Details for HTTP APIs" (2023): members type, title, status, detail are all optional, extension
// members are allowed, and a client must ignore those it does not know (section 3.2).
describe('a problem document', () => {
  it('gives its refusals, with the values and limits they carry', () => {
    const problem = readProblem(400, {
      type: 'about:blank',
      status: 400,
      refusals: [
        { code: 'out-of-range', path: 'heightM', value: 245, limit: 'at most 130 m', message: 'Too tall.' },
      ],
    })
    expect(problem.status).toBe(400)
    expect(problem.refusals).toEqual([
      { code: 'out-of-range', path: 'heightM', value: 245, limit: 'at most 130 m', message: 'Too tall.' },
    ])
    expect(problem.has('out-of-range')).toBe(true)
    expect(problem.has('conflict')).toBe(false)
  })

  it('keeps the stored record beside a conflict, and the accounts offered at a demo’s door', () => {
    const refusals = [{ code: 'conflict', path: '', message: 'Changed.' }]
    expect(readProblem(409, { refusals, current: { version: 4 } }).current).toEqual({ version: 4 })
    const demo = [{ email: 'orrin@example.org', role: 'officer', name: 'M. Orrin', password: 'x' }]
    expect(readProblem(401, { refusals: [], demo }).demo).toEqual(demo)
  })

  it('is never empty: a body of another kind gives one refusal chosen by the status', () => {
    expect(readProblem(502, '<html>').refusals).toEqual([
      { code: 'unavailable', path: '', message: refusalCodes.unavailable },
    ])
    expect(readProblem(403, null).refusals[0]?.code).toBe('forbidden')
    expect(readProblem(409, { detail: 'Said by a proxy.' }).refusals[0]?.message).toBe('Said by a proxy.')
  })

  it('drops a code it does not know and a refusal that is none, and says the rest', () => {
    const mixed = [{ code: 'of-a-newer-server', path: '' }, 7, { code: 'unknown' }]
    expect(readProblem(404, { refusals: mixed }).refusals).toEqual([
      { code: 'unknown', path: '', message: refusalCodes.unknown },
    ])
  })

  it('reads whatever was thrown', () => {
    expect(refusalsOf(undefined)).toEqual([])
    expect(refusalsOf(new Error('broke'))[0]?.code).toBe('internal-fault')
    const refused = new Refused(403, [{ code: 'forbidden', path: '', message: 'No.' }])
    expect(refusalsOf(refused)).toBe(refused.refusals)
  })
})

describe('an address', () => {
  it('leaves empty values out and joins lists', () => {
    expect(
      address('/due', {
        from: '2026-11-23',
        risk: ['high', 'extreme'],
        siteId: null,
        species: '',
        q: undefined,
      }),
    ).toBe('/api/due?from=2026-11-23&risk=high%2Cextreme')
    expect(address('/trees', { ids: [] })).toBe('/api/trees')
    expect(address('/trees', { q: 'a&b', limit: 0 })).toBe('/api/trees?q=a%26b&limit=0')
  })
})
