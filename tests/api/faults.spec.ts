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
    expect(await killedAtWork('import-write', 3000, [400, 150, 60, 20])).toBe(true)
  })

  it('leaves who is under each tree to the next one, which comes to the same figures', async () => {
    expect(await killedAtWork('exposure', 0, [700, 300, 100, 30])).toBe(true)
  })
})
