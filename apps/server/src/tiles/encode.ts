import { EXTENT, type Tile, tileUnits } from './grid.ts'
import type { Drawn } from './wkb.ts'

type Properties = Record<string, string | number>
type Ring = [number, number][]
/** Type 1 is a point, 2 lines, 3 areas; coordinates are whole units of the tile. */
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
  const numberOf = <K>(known: Map<K, number>, one: K) => {
    let at = known.get(one)
    if (at === undefined) {
      at = known.size
      known.set(one, at)
    }
    return at
  }
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

const MOVE = 1
const LINE = 2
const CLOSE = 15

function writeGeometry(out: Bytes, type: Feature['type'], rings: Ring[]) {
  let [x, y] = [0, 0]
  const go = ([toX, toY]: [number, number]) => {
    out.varint(zigzag(toX - x))
    out.varint(zigzag(toY - y))
    ;[x, y] = [toX, toY]
  }
  for (const ring of rings) {
    out.varint((1 << 3) | MOVE)
    go(ring[0]!)
    if (type === 1) continue
    // An area's last position is its first again, which the format leaves to the closing.
    const last = type === 3 ? ring.length - 1 : ring.length
    out.varint(((last - 1) << 3) | LINE)
    for (let i = 1; i < last; i++) go(ring[i]!)
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
      this.at += encoder.encodeInto(text, this.held.subarray(this.at)).written
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
    : parts.flatMap((lines) => lines.map((line) => quantised(tile, line)).filter((line) => line.length > 1))
  return rings.length === 0 ? null : { type: area ? 3 : 2, geometry: rings, tags }
}

/** Outer rings turn clockwise on the screen and holes the other way, as the format asks. A part whose outer ring vanishes takes its holes along. */
function areaRings(tile: Tile, polygon: Drawn['parts'][number]): Ring[] {
  const rings = polygon.map((ring) => quantised(tile, ring))
  if (!rings[0] || twiceArea(rings[0]) === 0) return []
  return rings.flatMap((ring, i) => {
    const turn = twiceArea(ring)
    return turn === 0 ? [] : [turn > 0 === (i === 0) ? ring : ring.reverse()]
  })
}

/** Whole units, without points that fell together. */
function quantised(tile: Tile, positions: Drawn['parts'][number][number]): Ring {
  const out: Ring = []
  for (const position of positions) {
    const [x, y] = tileUnits(tile, position).map(Math.round) as [number, number]
    const last = out.at(-1)
    if (!last || last[0] !== x || last[1] !== y) out.push([x, y])
  }
  return out
}

/** Positive for a ring that turns clockwise on a screen, whose rows run down. */
function twiceArea(ring: Ring): number {
  let sum = 0
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++)
    sum += ring[j]![0] * ring[i]![1] - ring[i]![0] * ring[j]![1]
  return sum
}
