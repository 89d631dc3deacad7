import type { DepthUnit } from './types.ts'

// Plain words for the two in languages that instruments are sold in; common knowledge, no source.
const depthWords = /depth|tiefe|profond|profund|diepte|djup|dybde|głębok|syvyys/i
const resistanceWords = /resist|résist|widerst|weerstand|motst[aå]nd|modstand|opór|vastus|torque|drehmoment/i

export const isDepthName = (name: string) => depthWords.test(name)
export const isResistanceName = (name: string) => resistanceWords.test(name)

const isUnit = (cell: string) => /^[[(]?\s*(?:mm|cm|in|inch|inches|"|%|N|N\s?m|W|V|mV)?\s*[\])]?$/i.test(cell)

/** Names of the columns from the last header row that has enough cells; a row of nothing but units is joined to the one above. */
export function columnNames(header: string[][], cells: number): string[] {
  const full = header.filter((row) => row.length >= cells)
  const last = full.at(-1)
  const before = full.at(-2)
  return Array.from({ length: cells }, (_, i) =>
    last?.every(isUnit) && before ? `${before[i]} ${last[i]}`.trim() : (last?.[i] ?? ''),
  )
}

/** The unit that stands in brackets or at the end of a column's name. */
export function unitIn(name: string): string | null {
  const bracketed = /[[(]\s*([^\])]+?)\s*[\])]/.exec(name)
  if (bracketed) return bracketed[1]
  const last = name.split(/[\s_/,]+/).at(-1) ?? ''
  return last !== '' && isUnit(last) ? last : null
}

export function depthUnitIn(name: string): DepthUnit | null {
  const unit = unitIn(name)?.toLowerCase().replace(/\.$/, '')
  if (unit === 'mm' || unit === 'cm' || unit === 'in') return unit
  if (unit === 'inch' || unit === 'inches') return 'in'
  return null
}
