/** Diameter that stands for several stems in BS 5837:2012 (4.6.1): √Σd² for two to five, √(mean² × n) for more (the latter from memory). */
export function combinedForBs5837Cm(stemsCm: readonly number[]): number {
  if (stemsCm.length <= 5) return Math.sqrt(stemsCm.reduce((sum, d) => sum + d * d, 0))
  const mean = stemsCm.reduce((sum, d) => sum + d, 0) / stemsCm.length
  return Math.sqrt(mean ** 2 * stemsCm.length)
}
