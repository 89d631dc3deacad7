/** SHA-256 of the original bytes as 64 hexadecimal digits, made on this device (FIPS 180-4, by the browser's own crypto). */
export async function digestOf(bytes: ArrayBuffer): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes)
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}

/** All 64 digits in groups of eight, as the standard prints them. */
export const sayDigest = (sha256: string) => sha256.match(/.{1,8}/g)?.join(' ') ?? sha256
/** `3.4 MB`, `180 kB`. */
export const sayBytes = (bytes: number) =>
  bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`
