import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cases } from '../faults/cases.ts'
import { type Ground, prepare } from '../faults/ground.ts'

/** A short slice of `npm run faults`, which kills many more times, in reading and closing too, and on both databases. */
describe('a server that is killed at work, on the embedded database', () => {
  let ground: Ground
  beforeAll(async () => {
    ground = await prepare('embedded', 300)
  })
  afterAll(() => ground?.remove())

  it('has written a list wholly or not at all, and the next one writes it', async () => {
    const found = await cases['import-write']({ ground, rows: 1500, killAfterMs: 500 })
    expect(found).toEqual({ died: 'at work', lost: [] })
  })

  it('leaves who is under each tree to the next one, which comes to the same figures', async () => {
    const found = await cases.exposure({ ground, rows: 0, killAfterMs: 700 })
    expect(found).toEqual({ died: 'at work', lost: [] })
  })
})
