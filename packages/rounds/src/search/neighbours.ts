import KDBush from 'kdbush'
import type { Problem } from '../problem.ts'

/** Up to this many trees every pair is compared; above it only those near in space. */
const compareAllUpTo = 400

/** For every tree the nearest others by way there and back, `width` each, nearest first. */
export interface Neighbours {
  width: number
  list: Int32Array
}

/** Nearest trees of each tree. Candidates come from a spatial index, their order from the ways themselves. */
export function neighboursOf({ visits, trees, places, seconds }: Problem, wanted: number): Neighbours {
  const width = Math.max(0, Math.min(wanted, trees - 1))
  const list = new Int32Array(trees * width)
  if (width === 0) return { width, list }
  const near = candidates(
    visits.map(({ longitude, latitude }) => [longitude, latitude]),
    width,
  )
  const key = new Float64Array(width)
  for (let tree = 0; tree < trees; tree++) {
    const base = tree * width
    let count = 0
    for (const other of near(tree)) {
      if (other === tree) continue
      const way = seconds[tree * places + other] + seconds[other * places + tree]
      if (count === width && way >= key[width - 1]) continue
      let at = count < width ? count++ : width - 1
      for (; at > 0 && key[at - 1] > way; at--) {
        key[at] = key[at - 1]
        list[base + at] = list[base + at - 1]
      }
      key[at] = way
      list[base + at] = other
    }
  }
  return { width, list }
}

function candidates(
  places: readonly (readonly [number, number])[],
  width: number,
): (tree: number) => ArrayLike<number> & Iterable<number> {
  const count = places.length
  const all = Int32Array.from({ length: count }, (_, i) => i)
  if (count <= compareAllUpTo) return () => all
  // Degrees of longitude are squeezed so that a circle in the index is about a circle on the ground.
  const squeeze = Math.cos((places[0][1] * Math.PI) / 180)
  const index = new KDBush(count)
  for (const [longitude, latitude] of places) index.add(longitude * squeeze, latitude)
  index.finish()
  // No two places lie farther apart than this, so that every search ends.
  const span = 2 * 360
  const start = Math.sqrt((extent(places, squeeze) * width) / count) || span / 1e6
  return (tree) => {
    const [longitude, latitude] = places[tree]
    for (let radius = start; radius < span; radius *= 1.6) {
      const found = index.within(longitude * squeeze, latitude, radius)
      if (found.length > width) return found.sort((a, b) => a - b)
    }
    return all
  }
}

function extent(places: readonly (readonly [number, number])[], squeeze: number): number {
  const x = places.map(([longitude]) => longitude * squeeze)
  const y = places.map(([, latitude]) => latitude)
  const spread = (values: number[]) =>
    values.reduce((a, b) => Math.max(a, b)) - values.reduce((a, b) => Math.min(a, b))
  return (spread(x) * spread(y)) / Math.PI
}
