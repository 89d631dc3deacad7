import { createHash, randomUUID } from 'node:crypto'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { batchExample, entryExample, treeExample } from '../testing/bodies.ts'
import { type Ask, databases, type Harness, startHarness } from '../testing/harness.ts'

/** The smallest thing that reads as a JPEG: a scan and an end. */
const jpeg = () =>
  Uint8Array.from([
    0xff,
    0xd8,
    0xff,
    0xda,
    0,
    2,
    ...createHash('sha256').update(randomUUID()).digest(),
    0xff,
    0xd9,
  ])

describe.each(databases)('photos as devices send them, on %s', (kind) => {
  let harness: Harness
  let inspector: Ask
  let treeId: string
  beforeAll(async () => {
    harness = await startHarness(kind)
    inspector = await harness.as('inspector')
    treeId = (await (await harness.as('officer'))('POST', '/trees', treeExample())).body.id
  })
  afterAll(() => harness?.close())

  const send = async (name: Parameters<typeof entryExample>[0], body: unknown) =>
    (await inspector('POST', '/entries', batchExample([entryExample(name, body as never)]))).body.answers[0]
  const photos = async () => (await inspector('GET', `/trees/${treeId}`)).body.photos
  async function photoOf(ownerKind: string, ownerId: string) {
    const bytes = jpeg()
    const sha256 = createHash('sha256').update(bytes).digest('hex')
    await inspector('PUT', `/uploads/${sha256}?from=0&of=${bytes.length}`, bytes)
    const common = { takenAt: null, position: null, caption: 'opening', copyOf: null, copyKind: null }
    return { id: randomUUID(), ownerKind, ownerId, sha256, bytes: bytes.length, ...common }
  }

  it('takes new words for a photo that is there, and nothing else of it', async () => {
    const photo = await photoOf('tree', treeId)
    expect((await send('photo', photo)).verdict).toBe('taken')
    expect((await send('photo', { ...photo, caption: 'the opening, from the path' })).verdict).toBe('taken')
    const other = await photoOf('tree', treeId)
    const stolen = await send('photo', { ...other, id: photo.id, caption: 'another tree' })
    expect([stolen.verdict, stolen.refusals[0].code]).toEqual(['refused', 'conflict'])
    expect((await photos()).filter((one: { id: string }) => one.id === photo.id)).toEqual([
      { ...photo, caption: 'the opening, from the path', mediaType: 'image/jpeg' },
    ])
  })

  it('shows on the tree’s page what was closed and what broke', async () => {
    const note = {
      id: randomUUID(),
      treeId,
      visitId: null,
      keptOut: true,
      toldWhom: 'The warden',
      toldHow: 'by telephone',
      toldAt: '2026-11-25T09:20:00Z',
      interimClosure: 'The path is closed.',
    }
    const failure = {
      id: randomUUID(),
      treeId,
      place: null,
      on: '2026-11-25',
      part: 'limb',
      gustMps: null,
      hit: '',
      nearMiss: false,
      note: '',
    }
    const closed = await photoOf('urgent-note', note.id)
    // The photo comes before the note it belongs to: nothing is decided yet.
    expect((await send('photo', closed)).verdict).toBe('later')
    for (const [name, body] of [
      ['urgent-note', note],
      ['failure', failure],
    ] as const)
      expect((await send(name, body)).verdict).toBe('taken')
    const broken = await photoOf('failure', failure.id)
    for (const one of [closed, broken]) expect((await send('photo', one)).verdict).toBe('taken')
    const ids = (await photos()).map((one: { id: string }) => one.id)
    expect(ids).toEqual(expect.arrayContaining([closed.id, broken.id]))
  })
})
