import { checkPolicy, type PolicyDraft, startingPolicy } from '@underbough/rating'
import { describe, expect, it } from 'vitest'
import { cellAt, changedCells, nextEdition, policyTables, refusalsOfTable, withCell } from './policy.ts'

const start = startingPolicy as PolicyDraft
const paths = policyTables.flatMap(({ rows, columns }) =>
  rows.flatMap((row) => columns.map((column) => `${row.path}.${column.key}`)),
)

describe('the policy as tables', () => {
  it('has every figure of the starting policy at a cell, and no cell without one', () => {
    const figures = (branch: unknown, path = ''): string[] =>
      typeof branch === 'number'
        ? [path]
        : typeof branch === 'object' && branch !== null && !Array.isArray(branch)
          ? Object.entries(branch).flatMap(([key, value]) => figures(value, path ? `${path}.${key}` : key))
          : []
    // Season and sizes have fields of their own beside the tables.
    const inTables = figures(start).filter((path) => !/^(season|partSizeFromCm)\./.test(path))
    expect([...paths].sort()).toEqual(inTables.sort())
  })

  it('changes one cell and leaves the policy it was given alone', () => {
    const changed = withCell(start, 'months.rare.large.slow', 61)
    expect(cellAt(changed, 'months.rare.large.slow')).toBe(61)
    expect(cellAt(start, 'months.rare.large.slow')).toBe(startingPolicy.months.rare.large.slow)
    expect(changedCells(start, changed)).toEqual(['months.rare.large.slow'])
    expect(cellAt(withCell(start, 'graceDays.low', null), 'graceDays.low')).toBeNull()
  })

  it('shows each refusal of the rules at a cell of one table', () => {
    const refusals = checkPolicy(
      withCell(withCell(start, 'capMonths.extreme.constant', 7), 'levels.extreme.rare', 1),
    )
    expect(refusals.length).toBeGreaterThan(1)
    for (const refusal of refusals) {
      expect(paths).toContain(refusal.path)
      expect(policyTables.filter((table) => refusalsOfTable([refusal], table).length > 0).length).toBe(1)
    }
  })

  it('names the next edition', () => {
    expect(nextEdition('starting-1')).toBe('starting-2')
    expect(nextEdition('Port Maud 2026-09')).toBe('Port Maud 2026-10')
    expect(nextEdition('our own')).toBe('our own-2')
  })
})
