/** `npm run bench -- <name> [--json]`: one seeded benchmark, its rows as a table and, with --json, as one object on the last line. */
import type { BenchRow } from './row.ts'

// As served: React draws several times slower with its checks for developers.
process.env.NODE_ENV ??= 'production'

const benches: Record<string, () => Promise<{ run(): Promise<BenchRow[]> }>> = {
  city: () => import('./city.ts'),
  exposure: () => import('./exposure.ts'),
  field: () => import('./field.ts'),
  rounds: () => import('./rounds.ts'),
  tiles: () => import('./tiles.ts'),
  wood: () => import('./wood.ts'),
}
const [name = '', ...flags] = process.argv.slice(2)
const bench = benches[name]
if (!bench) {
  console.error(`There is no benchmark “${name}”. Known: ${Object.keys(benches).join(', ')}.`)
  process.exit(2)
}
const rows = await (await bench()).run()
for (const row of rows) {
  const beside =
    row.peer === undefined || row.ratio === undefined ? '' : `  ${row.ratio.toPrecision(3)} × ${row.peer}`
  console.log(
    `${row.case.padEnd(58)} ${row.figure.toPrecision(5).padStart(12)} ${row.unit}${beside}${row.note ? `  (${row.note})` : ''}`,
  )
}
if (flags.includes('--json')) console.log(JSON.stringify({ name, rows }))
process.exit(0)
