import { execFileSync } from 'node:child_process'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { readTls } from './tls.ts'

// Certificates are made by OpenSSL, which this program does not use for reading them.
const folder = mkdtempSync(join(tmpdir(), 'underbough-tls-'))
const make = (name: string) =>
  execFileSync(
    'openssl',
    [
      ...[
        'req',
        '-x509',
        '-newkey',
        'ec',
        '-pkeyopt',
        'ec_paramgen_curve:prime256v1',
        '-nodes',
        '-days',
        '2',
      ],
      ...[
        '-subj',
        '/CN=trees.example',
        '-keyout',
        join(folder, `${name}.key`),
        '-out',
        join(folder, `${name}.pem`),
      ],
    ],
    { stdio: 'ignore' },
  )

describe('certificate and key', () => {
  beforeAll(() => {
    make('one')
    make('other')
    writeFileSync(join(folder, 'words.pem'), 'no certificate')
  })

  it('are read when they belong together, and not asked for when none is named', () => {
    expect(readTls({ cert: 'one.pem', key: 'one.key' }, folder)?.cert.toString()).toContain(
      'BEGIN CERTIFICATE',
    )
    expect(readTls({}, folder)).toBeNull()
  })

  it.each([
    ['one without the other', { cert: 'one.pem' }, 'Name both, or neither'],
    ['a file that is not there', { cert: 'gone.pem', key: 'one.key' }, 'gone.pem is not there'],
    ['a key of another certificate', { cert: 'one.pem', key: 'other.key' }, 'does not belong'],
    ['words in the place of a certificate', { cert: 'words.pem', key: 'one.key' }, 'holds no certificate'],
    ['words in the place of a key', { cert: 'one.pem', key: 'words.pem' }, 'holds no key'],
  ])('are refused in words: %s', (_, named, words) => {
    expect(() => readTls(named, folder)).toThrow(words)
  })

  it('are refused once the certificate has run out', () => {
    const later = new Date(Date.now() + 3 * 86_400_000)
    expect(() => readTls({ cert: 'one.pem', key: 'one.key' }, folder, later)).toThrow('ran out')
  })
})
