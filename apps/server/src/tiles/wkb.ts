import type { Position } from '@underbough/model'

/** The lines or outlines of a geometry: one list of positions for each line or ring, grouped by part for areas. */
export interface Drawn {
  area: boolean
  parts: Position[][][]
}

/**
 * Reads a line or an area from well-known binary (OGC 06-103r4, section 8.2), as `ST_AsBinary` writes it: two dimensions.
 * Points, and collections of several kinds, give nothing to draw.
 */
export function drawnOf(bytes: Buffer): Drawn {
  let at = 0
  const start = () => {
    const little = bytes.readUInt8(at) === 1
    if (!little) throw new Error('Only little-endian binary is read.')
    at += 5
    return bytes.readUInt32LE(at - 4)
  }
  const count = () => {
    at += 4
    return bytes.readUInt32LE(at - 4)
  }
  const line = (): Position[] => {
    const out: Position[] = new Array(count())
    for (let i = 0; i < out.length; i++, at += 16)
      out[i] = [bytes.readDoubleLE(at), bytes.readDoubleLE(at + 8)]
    return out
  }
  const rings = () => Array.from({ length: count() }, line)
  const many = <T>(one: () => T) =>
    Array.from({ length: count() }, () => {
      start()
      return one()
    })
  switch (start()) {
    case 2:
      return { area: false, parts: [[line()]] }
    case 3:
      return { area: true, parts: [rings()] }
    case 5:
      return { area: false, parts: many(line).map((one) => [one]) }
    case 6:
      return { area: true, parts: many(rings) }
    default:
      return { area: false, parts: [] }
  }
}
