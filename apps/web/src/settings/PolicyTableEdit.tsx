import type { Refusal } from '@underbough/model'
import type { PolicyDraft } from '@underbough/rating'
import { useId } from 'react'
import { cellAt, type PolicyTable, withCell } from './policy.ts'

interface PolicyTableEditProps {
  table: PolicyTable
  policy: PolicyDraft
  stored: PolicyDraft
  refusals: readonly Refusal[]
  onChange(policy: PolicyDraft): void
}
/** One table of the policy to write in. A refusal marks its cell; its sentence stands below and is read with the cell. */
export function PolicyTableEdit({ table, policy, stored, refusals, onChange }: PolicyTableEditProps) {
  const id = useId()
  const at = (path: string) => refusals.findIndex((r) => r.path === path)
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is moved sideways with the keyboard */}
      <div className="policy-roll" tabIndex={0} role="region" aria-label={`${table.title}: the table`}>
        <table className="policy-table">
          <thead>
            {table.groups ? (
              <tr>
                <td />
                {table.groups.map((group) => (
                  <th key={group.label} colSpan={group.span} scope="colgroup" className="policy-group">
                    {group.label}
                  </th>
                ))}
              </tr>
            ) : null}
            <tr>
              <td />
              {table.columns.map((column) => (
                <th key={column.key} scope="col" className="n">
                  {column.label}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map((row) => (
              <tr key={row.path}>
                <th scope="row">{row.label}</th>
                {table.columns.map((column, i) => {
                  const path = `${row.path}.${column.key}`
                  const place = at(path)
                  return (
                    <td key={column.key} className="n">
                      <Cell
                        label={`${row.label}, ${columnName(table, i)} (${table.unit})`}
                        value={cellAt(policy, path)}
                        changed={cellAt(policy, path) !== cellAt(stored, path)}
                        describedBy={place < 0 ? undefined : `${id}-${place}`}
                        onChange={(value) => onChange(withCell(policy, path, value))}
                      />
                    </td>
                  )
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {refusals.length > 0 ? (
        <ul className="policy-refusals">
          {refusals.map((refusal, i) => (
            <li key={i} id={`${id}-${i}`} className="field-refusal">
              {refusal.message}
            </li>
          ))}
        </ul>
      ) : null}
    </>
  )
}

function columnName(table: PolicyTable, index: number): string {
  const { label } = table.columns[index]!
  if (!table.groups) return label
  const group = table.groups[Math.floor(index / table.groups[0]!.span)]!
  return `${group.label}, ${label} change`
}

function Cell(props: {
  label: string
  value: number | null
  changed: boolean
  describedBy: string | undefined
  onChange(value: number | null): void
}) {
  const { label, value, changed, describedBy, onChange } = props
  const read = (text: string) => {
    const number = Number(text.trim().replace(',', '.'))
    onChange(text.trim() === '' || !Number.isFinite(number) ? null : number)
  }
  return (
    <input
      className={changed ? 'policy-cell policy-cell-changed' : 'policy-cell'}
      inputMode="numeric"
      aria-label={label}
      aria-invalid={describedBy !== undefined}
      aria-describedby={describedBy}
      value={value === null ? '' : String(value)}
      onChange={(event) => read(event.target.value)}
    />
  )
}
