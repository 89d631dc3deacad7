/** A drawing before it is written down: drawn once, then written as text (for a map's images) or as React elements (for a page). */
export interface Shape {
  tag: 'g' | 'path' | 'circle' | 'ellipse' | 'rect' | 'line' | 'text'
  /** SVG presentation attributes, by their SVG names. */
  at: Readonly<Record<string, string | number | undefined>>
  inside?: readonly (Shape | string)[]
}

export const shape = (tag: Shape['tag'], at: Shape['at'], inside?: Shape['inside']): Shape =>
  inside ? { tag, at, inside } : { tag, at }
export const path = (d: string, at: Shape['at'] = {}): Shape => shape('path', { d, fill: 'none', ...at })
export const circle = (r: number, at: Shape['at'] = {}): Shape => shape('circle', { r, ...at })
export const group = (at: Shape['at'], inside: readonly Shape[]): Shape => shape('g', at, inside)

/** A number as it is written in a drawing: two places, never “-0”. Throws RangeError on anything that is no number. */
export function n(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`a drawing cannot hold the number ${value}`)
  return String(Math.round(value * 100) / 100 + 0)
}

const escaped = (text: string) =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;')

/** Shapes as SVG markup. */
export function svgText(shapes: readonly (Shape | string)[]): string {
  return shapes
    .map((item) => {
      if (typeof item === 'string') return escaped(item)
      const at = Object.entries(item.at)
        .filter(([, value]) => value !== undefined)
        .map(([key, value]) => ` ${key}="${typeof value === 'number' ? n(value) : escaped(String(value))}"`)
      return item.inside
        ? `<${item.tag}${at.join('')}>${svgText(item.inside)}</${item.tag}>`
        : `<${item.tag}${at.join('')}/>`
    })
    .join('')
}
