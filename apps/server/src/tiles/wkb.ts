/** The lines or outlines of a geometry, grouped by part for areas; each is longitude and latitude by turns. */
export interface Drawn {
  area: boolean
  parts: Float64Array[][]
}

/**
 * Reads a line or an area from little-endian well-known binary (OGC 06-103r4, section 8.2), as `ST_AsBinary` writes it: two
 * dimensions. Points, and collections of several kinds, give nothing to draw.
 */
export function drawnOf(bytes: Buffer): Drawn {
  const from = new Reader(bytes)
  switch (from.kind()) {
    case 2:
      return { area: false, parts: [[from.line()]] }
    case 3:
      return { area: true, parts: [from.lines()] }
    case 5:
      return { area: false, parts: from.many((one) => [one.line()]) }
    case 6:
      return { area: true, parts: from.many((one) => one.lines()) }
    default:
      return { area: false, parts: [] }
  }
}

class Reader {
  private at = 0
  private view: DataView
  constructor(bytes: Buffer) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  }
  /** The kind of the geometry that begins here: 2 a line, 3 an area, 5 and 6 several of them. */
  kind(): number {
    this.at += 1
    return this.count()
  }
  private count(): number {
    this.at += 4
    return this.view.getUint32(this.at - 4, true)
  }
  line(): Float64Array {
    const out = new Float64Array(2 * this.count())
    for (let i = 0; i < out.length; i++, this.at += 8) out[i] = this.view.getFloat64(this.at, true)
    return out
  }
  lines(): Float64Array[] {
    const out: Float64Array[] = []
    for (let left = this.count(); left > 0; left--) out.push(this.line())
    return out
  }
  many<T>(one: (reader: Reader) => T): T[] {
    const out: T[] = []
    for (let left = this.count(); left > 0; left--) {
      this.kind()
      out.push(one(this))
    }
    return out
  }
}
