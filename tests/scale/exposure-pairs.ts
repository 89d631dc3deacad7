/** Pairs of a tree and a zone in reach a second, on one core: every bearing alike, and every figure with all directions. */
import {
  type BatchTree,
  exposureOfMany,
  meanPeopleIfEvenOfMany,
  reachOf,
  type ZoneOnGround,
  zoneTable,
} from '@underbough/exposure'
import { planeAt, seededNumbers } from '@underbough/model'
import { planarArea, type Ring } from '../published/exposure-slow.ts'
import type { BenchRow } from './row.ts'

const TREES = 1500
const PROFILES = 40
const PEOPLE_HOURS = 12

/** Trees a hundred metres apart with so many zones of 4 to 8 edges in reach of each, seeded. */
function makePairs(seed: number, perTree: number) {
  const random = seededNumbers(seed)
  const plane = planeAt(-5, 57)
  const maybe = <T>(chance: number, value: () => T) => (random() < chance ? value() : null)
  const windRose = Array.from({ length: 16 }, () => random())
  const weeks = Array.from({ length: PROFILES }, (_, i) =>
    Array.from({ length: 168 }, (__, hour) =>
      hour % 24 > 6 && hour % 24 <= 6 + PEOPLE_HOURS - 1
        ? Math.round(10 * (1 + (i % 9)) * (0.3 + Math.sin(((hour % 24) - 6 + (i % 5)) / 5) ** 2)) / 10
        : 0,
    ),
  )
  const trees: BatchTree[] = []
  const zones: ZoneOnGround[] = []
  const near: number[][] = []
  for (let t = 0; t < TREES; t++) {
    const [x, y] = [(t % 40) * 100, Math.floor(t / 40) * 100]
    const heightM = 4 + 22 * random() ** 1.3
    const radius = () => heightM * (0.1 + 0.2 * random())
    const tree = {
      heightM,
      stemDiameterCm: heightM * (1.5 + 2 * random()),
      crownBaseHeightM: maybe(0.5, () => heightM * (0.1 + 0.3 * random())),
      crownRadiiM: maybe(0.7, () => ({ n: radius(), e: radius(), s: radius(), w: radius() })),
      lean: maybe(0.15, () => ({ bearingDeg: 360 * random(), angleDeg: 20 * random() })),
      clearingBearingDeg: maybe(0.2, () => 360 * random()),
      windRose,
    }
    trees.push({ tree, position: plane.toDegrees(x, y) })
    const list: number[] = []
    while (list.length < perTree) {
      const ring = zoneRing(random, x, y, reachOf(tree))
      const nearest = Math.min(...ring.map(([px, py]) => Math.hypot(px - x, py - y)))
      if (nearest >= reachOf(tree)) continue
      list.push(zones.length)
      zones.push({
        id: `${zones.length}`,
        geometry: {
          type: 'Polygon',
          coordinates: [[...ring, ring[0]!].map(([px, py]) => plane.toDegrees(px, py))],
        },
        areaM2: planarArea([ring]),
        occupancy: { kind: 'building', peopleInside: weeks[Math.floor(random() * PROFILES)]! },
        staticTarget: false,
        partOf: null,
      })
    }
    near.push(list)
  }
  return { trees, near, table: zoneTable(zones) }
}

function zoneRing(random: () => number, x: number, y: number, reachM: number): Ring {
  const [long, wide] =
    random() < 0.5 ? [15 + 40 * random(), 2 + 5 * random()] : [4 + 16 * random(), 4 + 12 * random()]
  const corners = 4 + Math.floor(5 * random())
  const turn = Math.PI * random()
  const [away, towards] = [Math.sqrt(random()) * (reachM + long), 2 * Math.PI * random()]
  return Array.from({ length: corners }, (_, k) => {
    const a = (2 * Math.PI * (k + 0.5)) / corners
    const [u, v] = [0.65 * long * Math.cos(a), 0.65 * wide * Math.sin(a)]
    return [
      x + away * Math.cos(towards) + u * Math.cos(turn) - v * Math.sin(turn),
      y + away * Math.sin(towards) + u * Math.sin(turn) + v * Math.cos(turn),
    ]
  })
}

/** Seconds of this process's own time, the least of three after one to warm up: the machine may be busy with others. */
function ownSeconds(work: () => void): number {
  work()
  let least = Infinity
  for (let i = 0; i < 3; i++) {
    const before = process.cpuUsage()
    work()
    least = Math.min(least, process.cpuUsage(before).user / 1e6)
  }
  return least
}

/** `peerPerSecond`: intersections for one bearing that the database makes a second. */
export function pairRows(peerPerSecond: number | null): BenchRow[] {
  return [3, 8].flatMap((perTree): BenchRow[] => {
    const { trees, near, table } = makePairs(5, perTree)
    const pairs = trees.length * perTree
    const full = pairs / ownSeconds(() => exposureOfMany(trees, (t) => near[t]!, table))
    const even = pairs / ownSeconds(() => meanPeopleIfEvenOfMany(trees, (t) => near[t]!, table))
    const note = `${pairs} pairs, own processor time`
    return [
      { case: `${perTree} zones in reach, every figure`, figure: full, unit: 'pairs/s', note },
      { case: `${perTree} zones in reach, mean people, bearings alike`, figure: even, unit: 'pairs/s', note },
      ...(peerPerSecond
        ? [
            {
              case: `${perTree} zones in reach, all bearings beside one`,
              figure: peerPerSecond,
              unit: 'pairs/s',
              peer: 'every figure over PostGIS at one bearing',
              ratio: full / peerPerSecond,
            },
          ]
        : []),
    ]
  })
}
