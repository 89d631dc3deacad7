import { EXTENT, type Tile, unitsEast, unitsSouth } from './grid.ts'
import type { Drawn } from './wkb.ts'

type Properties = Record<string, string | number>
/** Whole units of the tile, east and south by turns. */
type Ring = number[]
/** Type 1 is a point, 2 lines, 3 areas. */
export interface Feature {
  type: 1 | 2 | 3
  geometry: Ring[]
  tags: Properties
}

/** A tile of named layers, by version 2.1 of the vector tile specification. Empty layers are left out. */
export function encodeTile(layers: Record<string, Feature[]>): Uint8Array {
  const out = new Bytes()
  for (const [name, features] of Object.entries(layers))
    if (features.length > 0) out.message(3, (tile) => writeLayer(tile, name, features))
  return out.taken()
}

function writeLayer(out: Bytes, name: string, features: Feature[]) {
  const keys = new Map<string, number>()
  const values = new Map<string | number, number>()
  out.uint(15, 2)
  out.text(1, name)
  for (const { type, geometry, tags } of features)
    out.message(2, (feature) => {
      feature.message(2, (packed) => {
        for (const key in tags) {
          packed.varint(numberOf(keys, key))
          packed.varint(numberOf(values, tags[key]!))
        }
      })
      feature.uint(3, type)
      feature.message(4, (packed) => writeGeometry(packed, type, geometry))
    })
  for (const key of keys.keys()) out.text(3, key)
  for (const value of values.keys())
    out.message(4, (one) => {
      if (typeof value === 'string') one.text(1, value)
      else if (!Number.isInteger(value)) one.double(3, value)
      else if (value < 0) one.uint(6, -2 * value - 1)
      else one.uint(5, value)
    })
  out.uint(5, EXTENT)
}

function numberOf<K>(known: Map<K, number>, one: K): number {
  let at = known.get(one)
  if (at === undefined) {
    at = known.size
    known.set(one, at)
  }
  return at
}

const MOVE = 1
const LINE = 2
const CLOSE = 15

function writeGeometry(out: Bytes, type: Feature['type'], rings: Ring[]) {
  let [x, y] = [0, 0]
  for (const ring of rings) {
    // An area's last position is its first again, which the format leaves to the closing.
    const count = type === 1 ? 1 : ring.length / 2 - (type === 3 ? 1 : 0)
    for (let i = 0; i < count; i++) {
      if (i === 0) out.varint((1 << 3) | MOVE)
      if (i === 1) out.varint(((count - 1) << 3) | LINE)
      const [toX, toY] = [ring[2 * i]!, ring[2 * i + 1]!]
      out.varint(zigzag(toX - x))
      out.varint(zigzag(toY - y))
      x = toX
      y = toY
    }
    if (type === 3) out.varint(CLOSE)
  }
}
const zigzag = (value: number) => (value << 1) ^ (value >> 31)

/** Protocol buffers, written forwards: a message is written where it will lie and moved on where its length needs more than one byte. */
class Bytes {
  private held = new Uint8Array(1 << 16)
  private view = new DataView(this.held.buffer)
  private at = 0

  private room(bytes: number) {
    if (this.at + bytes <= this.held.length) return
    const larger = new Uint8Array(Math.max(2 * this.held.length, this.at + bytes))
    larger.set(this.held.subarray(0, this.at))
    this.held = larger
    this.view = new DataView(larger.buffer)
  }
  varint(value: number) {
    this.room(10)
    while (value > 0x7f) {
      this.held[this.at++] = (value % 128) | 0x80
      value = Math.floor(value / 128)
    }
    this.held[this.at++] = value
  }
  uint(field: number, value: number) {
    this.varint(field << 3)
    this.varint(value)
  }
  double(field: number, value: number) {
    this.varint((field << 3) | 1)
    this.room(8)
    this.view.setFloat64(this.at, value, true)
    this.at += 8
  }
  text(field: number, text: string) {
    this.message(field, () => {
      this.room(3 * text.length)
      const from = this.at
      for (let i = 0; i < text.length; i++) {
        const code = text.charCodeAt(i)
        if (code > 0x7f) {
          this.at = from + encoder.encodeInto(text, this.held.subarray(from)).written
          return
        }
        this.held[this.at++] = code
      }
    })
  }
  message(field: number, write: (out: Bytes) => void) {
    this.varint((field << 3) | 2)
    this.room(1)
    const from = ++this.at
    write(this)
    const length = this.at - from
    let more = 0
    for (let rest = length; rest > 0x7f; rest = Math.floor(rest / 128)) more++
    if (more > 0) {
      this.room(more)
      this.held.copyWithin(from + more, from, this.at)
    }
    this.at = from - 1
    this.varint(length)
    this.at = from + more + length
  }
  taken(): Uint8Array {
    return this.held.slice(0, this.at)
  }
}
const encoder = new TextEncoder()

/** A line or an area already cut to the tile; null when nothing of it is left at this scale. */
export function shapeFeature(tile: Tile, { area, parts }: Drawn, tags: Properties): Feature | null {
  const rings = area
    ? parts.flatMap((rings) => areaRings(tile, rings))
    : parts.flatMap((lines) => lines.map((line) => quantised(tile, line)).filter((line) => line.length > 2))
  return rings.length === 0 ? null : { type: area ? 3 : 2, geometry: rings, tags }
}

/** Outer rings turn clockwise on the screen and holes the other way, as the format asks. A part whose outer ring vanishes takes its holes along. */
function areaRings(tile: Tile, polygon: Float64Array[]): Ring[] {
  const rings = polygon.map((ring) => quantised(tile, ring))
  if (!rings[0] || twiceArea(rings[0]) === 0) return []
  return rings.flatMap((ring, i) => {
    const turn = twiceArea(ring)
    return turn === 0 ? [] : [turn > 0 === (i === 0) ? ring : turned(ring)]
  })
}

/** Whole units, without points that fell together. */
function quantised(tile: Tile, positions: Float64Array): Ring {
  const out: Ring = []
  let [lastX, lastY] = [Number.NaN, Number.NaN]
  for (let i = 0; i < positions.length; i += 2) {
    const x = Math.round(unitsEast(tile, positions[i]!))
    const y = Math.round(unitsSouth(tile, positions[i + 1]!))
    if (x === lastX && y === lastY) continue
    out.push(x, y)
    lastX = x
    lastY = y
  }
  return out
}

function turned(ring: Ring): Ring {
  const out: Ring = []
  for (let i = ring.length - 2; i >= 0; i -= 2) out.push(ring[i]!, ring[i + 1]!)
  return out
}

/** Positive for a ring that turns clockwise on a screen, whose rows run down. */
function twiceArea(ring: Ring): number {
  let sum = 0
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2)
    sum += ring[j]! * ring[i + 1]! - ring[i]! * ring[j + 1]!
  return sum
}
