import { FULL_TURN } from './bearing.ts'
import { type Lobe, lobeAt } from './density.ts'
import type { Arc } from './kernel/contact.ts'

/** Bearings of the table from which people are counted; enough for 1e-6 of the mean number (model review, part 1.4). */
export const TABLE_SIZE = 720
export const TABLE_STEP = FULL_TURN / TABLE_SIZE

/** Angles, cosines and sines at the middle of each cell of the table. */
export const tableCos = new Float64Array(TABLE_SIZE)
export const tableSin = new Float64Array(TABLE_SIZE)
for (let i = 0; i < TABLE_SIZE; i++) {
  tableCos[i] = Math.cos((i + 0.5) * TABLE_STEP)
  tableSin[i] = Math.sin((i + 0.5) * TABLE_STEP)
}

/** Cosines and sines at the beginnings and middles of the cells, in turn. */
const halfCos = Float64Array.from({ length: 2 * TABLE_SIZE }, (_, i) => Math.cos((i * TABLE_STEP) / 2))
const halfSin = Float64Array.from({ length: 2 * TABLE_SIZE }, (_, i) => Math.sin((i * TABLE_STEP) / 2))

/** A lobe laid out on the table: the chance of each cell, and of all cells before it. */
export interface LobeTable {
  lobe: Lobe
  /** Density at the cell's middle × its width; sums to 1. */
  chance: Float64Array
  /** Exact chance of the angles from 0 to the cell's beginning; one more entry for the full turn. */
  before: Float64Array
}

// Gauss-Legendre, three points on −1..1.
const NODES = [-Math.sqrt(0.6), 0, Math.sqrt(0.6)] as const
const WEIGHTS = [5 / 9, 8 / 9, 5 / 9] as const

const evenChance = new Float64Array(TABLE_SIZE).fill(1 / TABLE_SIZE)
const evenBefore = Float64Array.from({ length: TABLE_SIZE + 1 }, (_, i) => i / TABLE_SIZE)

/** Lays a lobe out on the table. Built once a tree. */
export function lobeTable(lobe: Lobe): LobeTable {
  if (lobe.parts.length === 0) return { lobe, chance: evenChance, before: evenBefore }
  const chance = new Float64Array(TABLE_SIZE)
  const before = new Float64Array(TABLE_SIZE + 1)
  const density = new Float64Array(2 * TABLE_SIZE + 1)
  for (const part of lobe.parts) addPart(density, part)
  density[2 * TABLE_SIZE] = density[0]!
  for (let i = 0; i < TABLE_SIZE; i++) {
    const middle = density[2 * i + 1]!
    chance[i] = middle * TABLE_STEP
    // Simpson's rule: a cell is half a degree wide and a lobe many degrees.
    before[i + 1] = before[i]! + ((density[2 * i]! + 4 * middle + density[2 * i + 2]!) / 6) * TABLE_STEP
  }
  return { lobe, chance, before }
}

type Part = Lobe['parts'][number]

function addPart(density: Float64Array, part: Part): void {
  const ahead = part.angle / (TABLE_STEP / 2)
  const places = Math.round(ahead)
  // The sixteen winds of a rose fall on whole places of the table: one shape, turned, does for all of them.
  if (Math.abs(ahead - places) < 1e-9) {
    const shape = shapeOf(part.concentration)
    const size = shape.length
    for (let i = 0; i < size; i++) density[i]! += part.scale * shape[(i + size - places) % size]!
    return
  }
  const east = part.concentration * Math.cos(part.angle)
  const north = part.concentration * Math.sin(part.angle)
  for (let i = 0; i < 2 * TABLE_SIZE; i++)
    density[i]! += part.scale * Math.exp(east * halfCos[i]! + north * halfSin[i]! - part.concentration)
}

let lastShape = { concentration: Number.NaN, values: new Float64Array(0) }

/** A circular normal about east, not scaled; the last one is kept, for a policy has one for the wind. */
function shapeOf(concentration: number): Float64Array {
  if (lastShape.concentration !== concentration)
    lastShape = { concentration, values: halfCos.map((cos) => Math.exp(concentration * (cos - 1))) }
  return lastShape.values
}

/** Chance of the angles from 0 to `angle` (up to two turns). */
function chanceBefore(table: LobeTable, angle: number): number {
  const turns = Math.floor(angle / FULL_TURN)
  const within = angle - turns * FULL_TURN
  const cell = Math.min(TABLE_SIZE - 1, Math.floor(within / TABLE_STEP))
  const from = cell * TABLE_STEP
  const half = (within - from) / 2
  let sum = 0
  for (let k = 0; k < 3; k++) sum += WEIGHTS[k]! * lobeAt(table.lobe, from + half * (1 + NODES[k]!))
  return turns * table.before[TABLE_SIZE]! + table.before[cell]! + sum * half
}

/** Chance of a lobe's falls within arcs that do not overlap. */
export function chanceWithin(table: LobeTable, arcs: readonly Arc[]): number {
  let sum = 0
  for (const [from, to] of arcs)
    sum += to - from >= FULL_TURN - 1e-11 ? 1 : chanceBefore(table, to) - chanceBefore(table, from)
  return Math.min(1, sum)
}

/** Arcs that may overlap, as arcs that do not. */
export function unionOfArcs(arcs: readonly Arc[]): Arc[] {
  const flat: [number, number][] = []
  for (const [from, to] of arcs) {
    if (to - from >= FULL_TURN - 1e-11) return [[0, FULL_TURN]]
    if (to > FULL_TURN) flat.push([from, FULL_TURN], [0, to - FULL_TURN])
    else flat.push([from, to])
  }
  flat.sort((a, b) => a[0] - b[0])
  const joined: [number, number][] = []
  for (const arc of flat) {
    const last = joined[joined.length - 1]
    if (last && arc[0] <= last[1] + 1e-11) last[1] = Math.max(last[1], arc[1])
    else joined.push([...arc])
  }
  const first = joined[0]
  const last = joined[joined.length - 1]
  if (!first || !last) return joined
  if (first === last && last[1] - last[0] >= FULL_TURN - 1e-11) return [[0, FULL_TURN]]
  if (first !== last && first[0] <= 1e-11 && last[1] >= FULL_TURN - 1e-11)
    return [[last[0], first[1] + FULL_TURN], ...joined.slice(1, -1)]
  return joined
}
