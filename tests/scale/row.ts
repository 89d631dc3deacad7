/** One line of a benchmark: our figure, the peer's in the same unit, and how many times the peer's ours is. */
export interface BenchRow {
  case: string
  figure: number
  unit: string
  peer?: number
  ratio?: number
  note?: string
}
