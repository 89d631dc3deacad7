import { createHash, randomBytes, randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cases } from '../faults/cases.ts'
import { emptyLedger, reckon } from '../faults/field/ledger.ts'
import { openOffice, prepareField } from '../faults/field/office.ts'
import { byOldBatch, bySingleRequests } from '../faults/field/old-forms.ts'
import { type Ground, prepare } from '../faults/ground.ts'

/** A short slice of `npm run faults`, which kills many more times, with more trees and rows, in reading and closing too, and on both databases. */
describe('a server that is killed at work, on the embedded database', () => {
  let ground: Ground
  beforeAll(async () => {
    ground = await prepare('embedded', 80)
  })
  afterAll(() => ground?.remove())

  /** How fast the work goes depends on the machine: kills sooner and sooner until one falls while it is at work. */
  async function killedAtWork(name: keyof typeof cases, rows: number, killsAfterMs: number[]) {
    for (const killAfterMs of killsAfterMs) {
      const found = await cases[name]({ ground, rows, killAfterMs })
      expect(found.lost).toEqual([])
      if (found.died === 'at work') return true
    }
    return false
  }

  it('has written a list wholly or not at all, and the next one writes it', async () => {
    expect(await killedAtWork('import-write', 400, [400, 150, 60, 20])).toBe(true)
  })

  it('leaves who is under each tree to the next one, which comes to the same figures', async () => {
    expect(await killedAtWork('exposure', 0, [300, 100, 30])).toBe(true)
  })

  it('has on record what it acknowledged, and takes the rest again, each thing once', async () => {
    expect(await killedAtWork('entries', 0, [300, 100, 30])).toBe(true)
  })
})

describe('a phone that was away for thirty days', () => {
  const folder = mkdtempSync(join(tmpdir(), 'underbough-away-'))
  /** Not a picture to look at: the first bytes of a JPEG, chance, and its end. */
  const take = (count: number) =>
    Array.from({ length: count }, () => {
      const content = Buffer.concat([
        Buffer.from('ffd8ffe0', 'hex'),
        randomBytes(3000),
        Buffer.from('ffd9', 'hex'),
      ])
      const path = join(folder, `${randomUUID()}.jpg`)
      writeFileSync(path, content)
      return { path, bytes: content.length, sha256: createHash('sha256').update(content).digest('hex') }
    })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  it('is still understood: its single requests and its batches of the first form', async () => {
    const ground = await prepareField('embedded', 3)
    const office = await openOffice(ground)
    try {
      const inspector = await office.as('inspector')
      const { trees } = (await inspector('GET', '/trees?limit=2')).body
      const ledger = emptyLedger()
      await bySingleRequests({ ledger, take }, inspector, trees[0])
      await byOldBatch({ ledger, take }, inspector, trees[1])
      const { lost, doubles, entered, atTheOffice } = reckon(ledger, await office.books())
      expect(lost).toEqual([])
      expect({ doubles, entered, atTheOffice }).toEqual({ doubles: 0, entered: 4, atTheOffice: 4 })
    } finally {
      await office.remove()
      await ground.remove()
    }
  })
})
