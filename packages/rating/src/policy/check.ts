import {
  changeWords,
  done,
  type Outcome,
  occupancyWords,
  partSizeWords,
  type Refusal,
  type RefusalCode,
  refusal,
  refused,
  riskWords,
} from '@underbough/model'
import { deadlineWords, type Policy, type PolicyDraft, policyDraft, policySchema } from './policy.ts'

/** One place of a table: its path, how a person says it, and what stands there. */
interface Cell {
  path: string
  name: string
  value: number | null | undefined
}

/** Two neighbouring cells, of which the second is the worse case. */
type Pair = [lighter: Cell, worse: Cell]

/**
 * Everything that keeps a policy from being used; an empty list lets it be saved. Refuses an empty cell
 * (`policy-cell-empty`), a worse rating, heavier use, bigger part or faster change that waits longer
 * (`policy-worse-waits-longer`, both cells named) or is looked at on a lower level (`policy-worse-looked-at-less`).
 */
export function checkPolicy(policy: PolicyDraft): Refusal[] {
  const months = monthsTable(policy)
  const cap = square(policy.capMonths, 'capMonths', riskWords, 'risk', 'months')
  const { unrated, ...rated } = policy.levels
  const levels = square(rated, 'levels', riskWords, 'risk', 'level')
  const unratedLevels = line(unrated, 'levels.unrated', occupancyWords, 'not rated, use', 'level')
  const lines = [
    line(policy.graceDays, 'graceDays', riskWords, 'grace at risk', 'days'),
    line(policy.baselineMonths, 'baselineMonths', occupancyWords, 'first look at use', 'months'),
    line(policy.workDays, 'workDays', deadlineWords, 'work at', 'days'),
  ]
  const waits = [months, cap, ...lines]
  const size = policy.partSizeFromCm
  return [
    ...[...waits, levels, unratedLevels].flatMap(({ cells }) => cells.flatMap(emptyCell)),
    ...emptySeasons(policy),
    ...waits.flatMap(({ pairs }) => pairs.flatMap((pair) => outOfOrder(pair, 'policy-worse-waits-longer'))),
    ...[levels, unratedLevels].flatMap(({ pairs }) =>
      pairs.flatMap((pair) => outOfOrder(pair, 'policy-worse-looked-at-less')),
    ),
    ...(size.medium < size.large
      ? []
      : [
          refusal('out-of-range', 'partSizeFromCm.large', {
            value: size.large,
            limit: `above ${size.medium} cm`,
          }),
        ]),
  ]
}

/** A stored policy, read and checked: its shape first (`malformed`, `policy-cell-empty`), then its order. */
export function readPolicy(stored: unknown): Outcome<Policy> {
  const draft = policyDraft.safeParse(stored)
  if (!draft.success)
    return refused(
      ...draft.error.issues.map((issue) =>
        refusal('malformed', issue.path.join('.'), { message: issue.message }),
      ),
    )
  const faults = checkPolicy(draft.data)
  return faults.length > 0 ? refused(...faults) : done(policySchema.parse(draft.data))
}

function monthsTable(policy: PolicyDraft): { cells: Cell[]; pairs: Pair[] } {
  const at = (u: number, s: number, c: number): Cell => {
    const [use, size, change] = [occupancyWords[u]!, partSizeWords[s]!, changeWords[c]!]
    return {
      path: `months.${use}.${size}.${change}`,
      name: `${use} use, ${size} part, ${change} change (months)`,
      value: policy.months[use]?.[size]?.[change],
    }
  }
  const cells: Cell[] = []
  const pairs: Pair[] = []
  occupancyWords.forEach((_, u) => {
    partSizeWords.forEach((_, s) => {
      changeWords.forEach((_, c) => {
        cells.push(at(u, s, c))
        if (u > 0) pairs.push([at(u - 1, s, c), at(u, s, c)])
        if (s > 0) pairs.push([at(u, s - 1, c), at(u, s, c)])
        if (c > 0) pairs.push([at(u, s, c - 1), at(u, s, c)])
      })
    })
  })
  return { cells, pairs }
}

function square(
  table: Record<string, Record<string, number | null | undefined>>,
  path: string,
  rows: readonly string[],
  rowName: string,
  unit: string,
) {
  const lines = rows.map((row) =>
    line(table[row] ?? {}, `${path}.${row}`, occupancyWords, `${rowName} ${row}, use`, unit),
  )
  const down = lines
    .slice(1)
    .flatMap((below, r) => below.cells.map((cell, c): Pair => [lines[r]!.cells[c]!, cell]))
  return { cells: lines.flatMap((l) => l.cells), pairs: [...lines.flatMap((l) => l.pairs), ...down] }
}

function line(
  table: Record<string, number | null | undefined>,
  path: string,
  words: readonly string[],
  name: string,
  unit: string,
): { cells: Cell[]; pairs: Pair[] } {
  const cells = words.map(
    (word): Cell => ({ path: `${path}.${word}`, name: `${name} ${word} (${unit})`, value: table[word] }),
  )
  return { cells, pairs: cells.slice(1).map((cell, i): Pair => [cells[i]!, cell]) }
}

function emptyCell(cell: Cell): Refusal[] {
  if (cell.value !== null && cell.value !== undefined) return []
  return [refusal('policy-cell-empty', cell.path, { message: `Nothing stands at ${cell.name}.` })]
}

function emptySeasons(policy: PolicyDraft): Refusal[] {
  return (['in-leaf', 'out-of-leaf'] as const).flatMap((state) =>
    policy.season.months[state].length > 0 ? [] : [refusal('policy-cell-empty', `season.months.${state}`)],
  )
}

function outOfOrder([lighter, worse]: Pair, code: RefusalCode): Refusal[] {
  if (typeof lighter.value !== 'number' || typeof worse.value !== 'number') return []
  const waits = code === 'policy-worse-waits-longer'
  if (waits ? worse.value <= lighter.value : worse.value >= lighter.value) return []
  return [
    refusal(code, worse.path, {
      value: worse.value,
      limit: `${waits ? 'at most' : 'at least'} ${lighter.value}, as at ${lighter.path}`,
      message: `${worse.name} has ${worse.value}; ${lighter.name}, the lighter case, has ${lighter.value}.`,
    }),
  ]
}
