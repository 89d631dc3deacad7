import { createHash } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { Refused } from '../http/problem.ts'
import { canonical, digestOf } from './canonical.ts'

describe('one way of writing JSON', () => {
  it('sorts members by their UTF-16 units, as the example of RFC 8785, section 3.2.3, does', () => {
    const example = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    }
    const inOrder = [
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]
    expect(Object.values(JSON.parse(canonical(example))).sort()).toEqual([...inOrder].sort())
    expect(canonical(example).match(/(?<=:")[^"]*/g)).toEqual(inOrder)
  })

  it('writes literals and numbers as the example of RFC 8785, section 3.2.2, does', () => {
    // From memory of the RFC, with the members that JSON.parse reads alike everywhere.
    const input =
      '{ "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001], "literals": [null, true, false] }'
    expect(canonical(JSON.parse(input))).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27]}',
    )
  })

  it('digests kind and body with SHA-256, whatever the order of members', () => {
    const said = createHash('sha256').update('{"body":{"a":1,"b":[2]},"kind":"failure"}').digest('hex')
    expect(digestOf('failure', { b: [2], a: 1 })).toBe(said)
    expect(digestOf('photo', { b: [2], a: 1 })).not.toBe(said)
  })

  it('refuses what nests deeper than any record, and does not fall over it', () => {
    const deep = JSON.parse(`${'['.repeat(100_000)}${']'.repeat(100_000)}`)
    expect(() => canonical(deep)).toThrow(Refused)
  })
})
