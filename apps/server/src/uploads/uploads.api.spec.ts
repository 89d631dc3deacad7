import { createHash, randomUUID } from 'node:crypto'
import { tables } from '@underbough/db'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { batchExample, entryExample, treeExample } from '../testing/bodies.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

const MIB = 1024 * 1024
const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')
/** Bytes that begin as a JPEG does and are like no others. */
function picture(length: number, head = [0xff, 0xd8, 0xff, 0xe0]) {
  const bytes = new Uint8Array(length)
  for (let i = 0; i < length; i += 1024)
    bytes.set(
      createHash('sha256')
        .update(randomUUID())
        .digest()
        .subarray(0, Math.min(32, length - i)),
      i,
    )
  bytes.set(head)
  return bytes
}
/** The smallest thing that reads as a JPEG with these segments: they, a scan, an end. */
const jpegWith = (...segments: [marker: number, content: string][]) =>
  Uint8Array.from([
    0xff,
    0xd8,
    ...segments.flatMap(([marker, content]) => [
      0xff,
      marker,
      0,
      content.length + 2,
      ...Buffer.from(content),
    ]),
    ...[0xff, 0xda, 0, 2, ...createHash('sha256').update(randomUUID()).digest(), 0xff, 0xd9],
  ])

describe.each(databases)('a file on its way, on %s', (kind) => {
  let harness: Harness
  let now: Date
  let inspector: Ask
  let treeId: string
  beforeAll(async () => {
    harness = await startHarness(kind)
    now = harness.deps.now()
    harness.deps.now = () => now
    inspector = await harness.as('inspector')
    treeId = (await (await harness.as('officer'))('POST', '/trees', treeExample())).body.id
  })
  afterAll(() => harness?.close())

  const put = (digest: string, from: number, of: number, content: Uint8Array, ask = inspector) =>
    ask('PUT', `/uploads/${digest}?from=${from}&of=${of}`, content)
  async function sendWhole(bytes: Uint8Array) {
    for (let from = 0; from < bytes.length; from += MIB)
      await put(sha256(bytes), from, bytes.length, bytes.subarray(from, from + MIB))
  }
  const photoOf = (bytes: Uint8Array, changes: object = {}) => ({
    id: randomUUID(),
    ownerKind: 'tree',
    ownerId: treeId,
    sha256: sha256(bytes),
    bytes: bytes.length,
    takenAt: null,
    position: null,
    caption: '',
    copyOf: null,
    copyKind: null,
    ...changes,
  })
  const enter = async (body: object, changes: object = {}) =>
    (await inspector('POST', '/entries', batchExample([entryExample('photo', body, changes)]))).body
      .answers[0]
  const codes = (answer: { refusals: { code: string }[] }) => answer.refusals.map((one) => one.code)

  it('goes on where it stopped, and comes out as it went in', async () => {
    const bytes = picture(2 * MIB + 12_345)
    const digest = sha256(bytes)
    expect((await inspector('GET', `/uploads/${digest}`)).body).toEqual({ received: 0, whole: false })
    expect((await put(digest, 0, bytes.length, bytes.subarray(0, MIB))).body.received).toBe(MIB)
    // The answer was lost: the same piece again changes nothing.
    expect((await put(digest, 0, bytes.length, bytes.subarray(0, MIB))).body).toEqual({
      received: MIB,
      whole: false,
    })
    expect((await inspector('GET', `/uploads/${digest}`)).body).toEqual({ received: MIB, whole: false })
    const ahead = await put(digest, 2 * MIB, bytes.length, bytes.subarray(2 * MIB))
    expect([ahead.status, ahead.body.received, codes(ahead.body)]).toEqual([409, MIB, ['conflict']])
    const other = await put(digest, 0, bytes.length, picture(MIB))
    expect([other.status, other.body.received]).toEqual([409, MIB])
    const meta = photoOf(bytes)
    expect(await enter(meta)).toMatchObject({ verdict: 'later', refusals: [{ code: 'bytes-missing' }] })
    await put(digest, MIB, bytes.length, bytes.subarray(MIB, 2 * MIB))
    expect((await put(digest, 2 * MIB, bytes.length, bytes.subarray(2 * MIB))).body).toEqual({
      received: bytes.length,
      whole: true,
    })
    expect((await put(digest, 0, bytes.length, bytes.subarray(0, MIB))).body.whole).toBe(true)
    expect((await inspector('GET', `/uploads/${digest}`)).body).toEqual({
      received: bytes.length,
      whole: true,
    })
    expect(await enter(meta)).toMatchObject({ verdict: 'taken', answer: { mediaType: 'image/jpeg' } })
    const back = await inspector('GET', `/photos/${meta.id}`)
    expect(sha256(new Uint8Array(back.body))).toBe(digest)
    expect(await harness.deps.database.db.$count(tables.uploadPiece)).toBe(0)
  })

  it('is whole once where two devices send it at once', async () => {
    const bytes = picture(50_000)
    const answers = await Promise.all([1, 2, 3].map(() => put(sha256(bytes), 0, bytes.length, bytes)))
    expect(answers.map((one) => [one.status, one.body.whole])).toEqual(Array(3).fill([200, true]))
  })

  it('is dropped where its bytes are not those of its name, or no picture', async () => {
    const bytes = picture(3000)
    const changed = bytes.slice()
    changed[2000]! ^= 1
    expect(codes((await put(sha256(bytes), 0, 3000, changed)).body)).toEqual(['digest-differs'])
    expect((await inspector('GET', `/uploads/${sha256(bytes)}`)).body).toEqual({ received: 0, whole: false })
    expect((await put(sha256(bytes), 0, 3000, bytes)).body.whole).toBe(true)
    const page = picture(3000, [...Buffer.from('<html>')])
    expect(codes((await put(sha256(page), 0, 3000, page)).body)).toEqual(['file-not-this-format'])
    expect((await inspector('GET', `/uploads/${sha256(page)}`)).body.received).toBe(0)
  })

  it('is refused where it is too large, empty, or no file at all', async () => {
    const digest = sha256(picture(5))
    const said = async (
      answer: Promise<{ status: number; body: { refusals: { code: string; path: string }[] } }>,
    ) => `${(await answer).status} ${(await answer).body.refusals.map((one) => `${one.code} ${one.path}`)}`
    expect(await said(put(digest, 0, 40 * MIB + 1, picture(5)))).toBe('413 too-large of')
    expect(await said(put(digest, 0, 2 * MIB, picture(MIB + 1)))).toBe('413 too-large ')
    expect(await said(put(digest, 0, 5, new Uint8Array()))).toBe('400 file-empty ')
    expect(await said(put(digest, 3, 5, picture(5)))).toBe('400 malformed of')
    expect(await said(put('a'.repeat(63), 0, 5, picture(5)))).toBe('400 malformed sha256')
    expect(await said(put(digest, -1, 5, picture(5)))).toBe('400 out-of-range from')
    expect(await said(put(digest, 0, 5, picture(5), await harness.as('client')))).toBe('403 forbidden ')
  })

  it('is cleared where nobody went on with it for thirty days', async () => {
    const start = now
    const old = picture(2000)
    await put(sha256(old), 0, 2000, old.subarray(0, 1000))
    const days = (n: number) => new Date(start.getTime() + n * 86_400_000)
    const another = () => {
      const bytes = picture(2000)
      return put(sha256(bytes), 0, 2000, bytes.subarray(0, 1000))
    }
    now = days(30)
    await another()
    expect((await inspector('GET', `/uploads/${sha256(old)}`)).body.received).toBe(1000)
    now = days(30.01)
    await another()
    expect((await inspector('GET', `/uploads/${sha256(old)}`)).body.received).toBe(0)
    now = start
  })

  it('waits for what its photo belongs to, and is refused where it is not what it was said to be', async () => {
    const bytes = picture(900)
    await sendWhole(bytes)
    expect(codes(await enter(photoOf(bytes, { ownerId: randomUUID() })))).toEqual(['owner-missing'])
    expect(await enter(photoOf(bytes, { bytes: 901 }))).toMatchObject({
      verdict: 'refused',
      refusals: [{ code: 'malformed', path: 'bytes' }],
    })
  })

  it('shows a copy on screens, and nothing but a copy to a client', async () => {
    const original = jpegWith([0xe1, 'Exif\0\0 where it was taken'])
    const copy = jpegWith([0xe0, 'JFIF\0'])
    const marked = jpegWith([0xe0, 'JFIF\0'])
    for (const bytes of [original, copy, marked]) await sendWhole(bytes)
    const first = photoOf(original)
    await enter(first)
    const client = await harness.as('client')
    const shown = async (ask: Ask, query = '', id = first.id) =>
      sha256(new Uint8Array((await ask('GET', `/photos/${id}${query}`)).body))
    expect(await shown(inspector, '?copy=screen')).toBe(sha256(original))
    const early = await client('GET', `/photos/${first.id}`)
    expect(early.headers.get('cache-control')).not.toContain('immutable')
    await enter(photoOf(marked, { copyOf: first.id, copyKind: 'marked' }))
    expect(await shown(client)).toBe(sha256(marked))
    await enter(photoOf(copy, { copyOf: first.id, copyKind: 'screen' }))
    expect(await shown(inspector, '?copy=screen')).toBe(sha256(copy))
    expect(await shown(inspector)).toBe(sha256(original))
    expect([await shown(client), await shown(client, '?copy=screen')]).toEqual([sha256(copy), sha256(copy)])
  })

  it('takes no copy that says more than it shows', async () => {
    const original = jpegWith([0xe1, 'Exif\0\0 where it was taken'])
    await sendWhole(original)
    const first = photoOf(original)
    await enter(first)
    const telling = jpegWith([0xe0, 'JFIF\0'], [0xe1, 'Exif\0\0 where'])
    await sendWhole(telling)
    expect(await enter(photoOf(telling, { copyOf: first.id, copyKind: 'screen' }))).toMatchObject({
      verdict: 'refused',
      refusals: [{ code: 'malformed', path: 'copyOf', value: 'APP1' }],
    })
    expect(codes(await enter(photoOf(telling, { copyOf: first.id, copyKind: null })))).toEqual(['required'])
  })

  it('is refused with its reason where the particulars of a photo cannot be read', async () => {
    const send = async (meta: string) => {
      const form = new FormData()
      form.set('file', new Blob([jpegWith()]), 'a.jpg')
      form.set('meta', meta)
      return inspector('POST', '/photos', form)
    }
    for (const meta of ['{', 'null', '[]', '7', '{"id":4}', '{"id":"x","ownerKind":"boat","ownerId":null}'])
      expect((await send(meta)).status).toBe(400)
    const answer = await send(JSON.stringify({ ...photoOf(jpegWith()), caption: 4, sha256: undefined }))
    expect([answer.status, answer.body.refusals[0].path]).toEqual([400, 'caption'])
  })
})
