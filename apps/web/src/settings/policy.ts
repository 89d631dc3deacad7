import { changeWords, occupancyWords, partSizeWords, type Refusal, riskWords } from '@underbough/model'
import { deadlineWords, eventKinds, eventNames, type PolicyDraft } from '@underbough/rating'

/** One table of the policy: where its cells stand in the record, and how a person reads it. */
export interface PolicyTable {
  id: string
  title: string
  /** What a cell counts: months, days, a level. */
  unit: string
  says: string
  /** Words over groups of columns, where there are any. */
  groups?: readonly { label: string; span: number }[]
  columns: readonly { key: string; label: string }[]
  /** A cell's path is its row's path, a full stop, and its column's key. */
  rows: readonly { path: string; label: string }[]
}

const uses = occupancyWords.map((key) => ({ key, label: key }))
const risks = riskWords.map((key) => ({ key, label: key }))

/** The policy as tables, the worst case at the lower right of each. */
export const policyTables: readonly PolicyTable[] = [
  {
    id: 'months',
    title: 'From look to look',
    unit: 'months',
    says: 'By use of the zone, size of the part that may fail and expected rate of change. A worse case never waits longer.',
    groups: partSizeWords.map((label) => ({ label: `${label} part`, span: changeWords.length })),
    columns: partSizeWords.flatMap((size) =>
      changeWords.map((change) => ({ key: `${size}.${change}`, label: change })),
    ),
    rows: occupancyWords.map((use) => ({ path: `months.${use}`, label: `${use} use` })),
  },
  {
    id: 'capMonths',
    title: 'Never longer than',
    unit: 'months',
    says: 'By the risk that remains and the use of the zone. The shorter of this and the table above holds.',
    columns: uses,
    rows: riskWords.map((risk) => ({ path: `capMonths.${risk}`, label: risk })),
  },
  {
    id: 'levels',
    title: 'Level that counts as the look',
    unit: 'level',
    says: '1 limited, 2 basic, 3 advanced. A worse case is never looked at on a lower level.',
    columns: uses,
    rows: (['unrated', ...riskWords] as const).map((risk) => ({
      path: `levels.${risk}`,
      label: risk === 'unrated' ? 'not yet rated' : risk,
    })),
  },
  {
    id: 'baselineMonths',
    title: 'First look at a tree nobody has seen',
    unit: 'months',
    says: 'From the day it was brought in, spread over the time so that all are seen by then.',
    columns: uses,
    rows: [{ path: 'baselineMonths', label: 'by use' }],
  },
  {
    id: 'graceDays',
    title: 'Grace for the season',
    unit: 'days',
    says: 'How far past its date a look may wait for the leaf state it is wanted in.',
    columns: risks,
    rows: [{ path: 'graceDays', label: 'by risk' }],
  },
  {
    id: 'workDays',
    title: 'Works without a date of their own',
    unit: 'days',
    says: 'Deadline from the day they were proposed.',
    columns: deadlineWords.map((key) => ({ key, label: key })),
    rows: [{ path: 'workDays', label: 'by risk' }],
  },
  {
    id: 'events',
    title: 'What asks for an earlier look',
    unit: 'days, level',
    says: 'Within so many days of it, and on which level.',
    columns: [
      { key: 'withinDays', label: 'within, days' },
      { key: 'level', label: 'level' },
    ],
    rows: eventKinds.map((kind) => ({ path: `events.${kind}`, label: eventNames[kind] })),
  },
  {
    id: 'riskWeights',
    title: 'Weight of one day late',
    unit: 'weight',
    says: 'For the order in which overdue looks are planned.',
    columns: risks,
    rows: [{ path: 'riskWeights', label: 'by risk' }],
  },
]

type Branch = Record<string, unknown>
const isBranch = (x: unknown): x is Branch => typeof x === 'object' && x !== null

/** The figure at a path of the policy; null where nothing stands. */
export function cellAt(policy: PolicyDraft, path: string): number | null {
  let at: unknown = policy
  for (const key of path.split('.')) at = isBranch(at) ? at[key] : undefined
  return typeof at === 'number' ? at : null
}

/** The policy with another figure at a path; the policy given stays as it was. */
export function withCell(policy: PolicyDraft, path: string, value: number | null): PolicyDraft {
  const put = (branch: unknown, keys: readonly string[]): unknown => {
    const [key, ...rest] = keys
    if (key === undefined) return value
    return {
      ...(isBranch(branch) ? branch : {}),
      [key]: put(isBranch(branch) ? branch[key] : undefined, rest),
    }
  }
  return put(policy, path.split('.')) as PolicyDraft
}

/** Every cell of the tables whose figure differs, by path. */
export const changedCells = (from: PolicyDraft, to: PolicyDraft): string[] =>
  policyTables.flatMap(({ rows, columns }) =>
    rows.flatMap((row) =>
      columns.map((c) => `${row.path}.${c.key}`).filter((path) => cellAt(from, path) !== cellAt(to, path)),
    ),
  )

/** A name for the next edition: its last number is one higher, or it is the second. */
export function nextEdition(edition: string): string {
  const found = /^(.*?)(\d+)$/.exec(edition.trim())
  return found ? `${found[1]}${Number(found[2]) + 1}` : `${edition.trim()}-2`
}

/** Refusals that stand in a table, and those that stand in none. */
export function refusalsOfTable(refusals: readonly Refusal[], table: PolicyTable): Refusal[] {
  return refusals.filter((r) => r.path === table.id || r.path.startsWith(`${table.id}.`))
}
