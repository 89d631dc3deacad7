import type { Position } from '@underbough/model'
import { say } from './codes.ts'
import { distanceM } from './positions.ts'
import type { RowVerdict } from './row-verdict.ts'

/** Two trees nearer than about a centimetre stand on one point. */
export function noteShared(rows: RowVerdict[]): void {
  const at = new Map<string, RowVerdict[]>()
  for (const row of rows) {
    if (!row.tree) continue
    const key = row.tree.position.map((degrees) => degrees.toFixed(7)).join()
    const there = at.get(key)
    if (there) there.push(row)
    else at.set(key, [row])
  }
  for (const there of at.values()) {
    if (there.length < 2) continue
    for (const row of there)
      row.notes.push(
        say('shared-position', 'position', `${there.length} trees of the file stand on this one point.`, {
          value: there.length,
        }),
      )
  }
}

/** Notes on trees far from the middle (the median) of the file, which are mostly slips of the pen. */
export function noteFarAway(rows: RowVerdict[], farAwayM: number): void {
  const positions = rows.flatMap((row) => (row.tree ? [row.tree.position] : []))
  if (positions.length === 0) return
  const middle: Position = [median(positions.map((p) => p[0])), median(positions.map((p) => p[1]))]
  for (const row of rows) {
    if (!row.tree) continue
    const away = distanceM(row.tree.position, middle)
    if (away <= farAwayM) continue
    const km = Math.round(away / 1000)
    row.notes.push(
      say('position-far-away', 'position', `This tree lies ${km} km from the middle of the file.`, {
        value: Math.round(away),
        limit: `${farAwayM / 1000} km`,
      }),
    )
  }
}

function median(values: number[]): number {
  const sorted = values.sort((a, b) => a - b)
  return sorted[sorted.length >> 1]!
}
