import { type TreeField, type TreeMapping, treeFields } from '@underbough/model'
import { Select } from '../look/index.ts'
import { takenFor } from './mapping.ts'
import type { Begun } from './types.ts'
import { confidenceNames, fieldNames } from './words.ts'

const options = treeFields.map((value) => ({ value, label: fieldNames[value] }))

/** Each column of the file with what stands in it, what it is taken for, and why. */
export function TreeColumns({
  table,
  guesses,
  mapping,
  onChange,
}: {
  table: Begun['table']
  guesses: NonNullable<Begun['explanations']>['columns']
  mapping: TreeMapping
  onChange(mapping: TreeMapping): void
}) {
  const because = new Map(guesses.map((guess) => [guess.column, guess]))
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is moved sideways with the keyboard
    <div className="table-roll" tabIndex={0} role="region" aria-label="Columns of the file">
      <table className="columns-table">
        <thead>
          <tr>
            <th>Column</th>
            <th>Holds, for example</th>
            <th>Taken for</th>
            <th>Why</th>
          </tr>
        </thead>
        <tbody>
          {table.columns.map(({ name, samples }) => {
            const guess = because.get(name)
            const field = mapping.columns[name] ?? 'ignore'
            const own = guess !== undefined && guess.field !== field
            return (
              <tr key={name} className={field === 'ignore' ? 'left-out' : undefined}>
                <td className="b">{name}</td>
                <td className="samples">{samples.slice(0, 3).join(' · ') || 'nothing'}</td>
                <td className="field-cell">
                  <Select<TreeField>
                    label={`Column ${name} is taken for`}
                    value={field}
                    options={options}
                    onChange={(chosen) => onChange(takenFor(mapping, name, chosen))}
                  />
                </td>
                <td className="s q why">
                  {own
                    ? `Your own choice; suggested was: ${fieldNames[guess.field].toLowerCase()}.`
                    : guess
                      ? `${confidenceNames[guess.confidence]}. ${guess.because}`
                      : null}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </div>
  )
}
