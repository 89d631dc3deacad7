import { createPrivateKey, X509Certificate } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'

export interface Tls {
  cert: Buffer
  key: Buffer
}

/**
 * Certificate and key (PEM files) to answer with HTTPS; null where neither is named. Throws, in words for whoever starts the
 * program, where one is missing, unreadable or does not belong to the other.
 */
export function readTls(
  named: { cert?: string; key?: string },
  folder = process.cwd(),
  now = new Date(),
): Tls | null {
  if (!named.cert && !named.key) return null
  if (!named.cert || !named.key)
    throw new Error(
      `HTTPS takes a certificate and its key; only the ${named.cert ? 'certificate' : 'key'} is named. Name both, or neither.`,
    )
  const cert = readNamed('certificate', resolve(folder, named.cert))
  const key = readNamed('key', resolve(folder, named.key))
  const certificate = parse('certificate', named.cert, () => new X509Certificate(cert))
  const privateKey = parse('key', named.key, () => createPrivateKey(key))
  if (!certificate.checkPrivateKey(privateKey))
    throw new Error(
      `The key in ${named.key} does not belong to the certificate in ${named.cert}. Name the key that it was made with.`,
    )
  if (new Date(certificate.validTo) < now)
    throw new Error(
      `The certificate in ${named.cert} ran out on ${certificate.validTo}. No phone will trust it; renew it.`,
    )
  return { cert, key }
}

function readNamed(what: string, path: string): Buffer {
  try {
    return readFileSync(path)
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    const why =
      code === 'ENOENT' ? 'is not there' : code === 'EACCES' ? 'may not be read' : `failed (${code})`
    throw new Error(`The ${what} ${path} ${why}.`)
  }
}

function parse<T>(what: string, path: string, read: () => T): T {
  try {
    return read()
  } catch {
    throw new Error(
      `${path} holds no ${what} in PEM form${what === 'key' ? ', or one with a passphrase' : ''}.`,
    )
  }
}
