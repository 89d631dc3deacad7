/** How figures and lists are said in captions and text equivalents. */

const compass = [
  'north',
  'north-east',
  'east',
  'south-east',
  'south',
  'south-west',
  'west',
  'north-west',
] as const

/** Nearest of eight points of the compass to a bearing. */
export const compassWord = (bearingDeg: number): string =>
  compass[Math.round((((bearingDeg % 360) + 360) % 360) / 45) % 8]!

/** A figure with at most `places` decimals and no trailing zeros; the unit is the caller's. */
export const figure = (value: number, places = 1): string => String(Number(value.toFixed(places)))

/** A length in metres with its unit, “9.5 m”. */
export const metres = (value: number, places = 1): string => `${figure(value, places)} m`

/** A way: metres below a kilometre (to the nearest five), kilometres above. */
export const way = (value: number): string =>
  value < 995 ? `${Math.round(value / 5) * 5} m` : `${(value / 1000).toFixed(1)} km`

export const bearing = (bearingDeg: number): string => `${Math.round(((bearingDeg % 360) + 360) % 360)}°`

/** “3 trees”, “1 tree”. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`

/** “a, b and c”. */
export const listed = (items: readonly string[]): string =>
  items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`

export const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** Minutes after midnight as a clock says them. */
export const clock = (minute: number): string =>
  `${Math.floor(minute / 60)}:${String(Math.round(minute % 60)).padStart(2, '0')}`

/** Rough width of words in px: enough to keep labels apart, not to set type. */
export const wordsWidth = (text: string, sizePx: number, firm = false): number =>
  text.length * sizePx * (firm ? 0.53 : 0.49)

/** Words cut to a width, px, with an ellipsis. */
export function fitted(text: string, widthPx: number, sizePx: number): string {
  const room = Math.floor(widthPx / (sizePx * 0.49))
  return text.length <= room ? text : `${text.slice(0, Math.max(1, room - 1)).trimEnd()}…`
}

/** A round step (1, 2 or 5 times a power of ten) that is at least `least`. */
export function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(least, 1e-9)))
  return [1, 2, 5, 10].map((m) => m * power).find((step) => step >= least * 0.999)!
}
