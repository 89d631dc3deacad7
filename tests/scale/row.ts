/** One line of a benchmark: our figure, who it is set beside, the peer's figure in the same unit, and ours over the peer's. */
export interface BenchRow {
  case: string
  figure: number
  unit: string
  peer?: string
  peerFigure?: number
  ratio?: number
  note?: string
}
