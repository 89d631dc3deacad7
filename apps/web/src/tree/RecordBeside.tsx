import { Button, Dialog, Notice, Words } from '../look/index.ts'
import type { Difference } from './conflict.ts'
import { fieldNames, sayField } from './fieldWords.ts'

/** One's own change beside somebody else's, field by field. */
export function RecordBeside(props: {
  rows: Difference[]
  onChange(rows: Difference[]): void
  onKeep(): void
  onClose(): void
  isPending: boolean
}) {
  const { rows, onChange, onKeep, onClose, isPending } = props
  return (
    <Dialog
      title="Two people, one tree"
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button kind="do" onPress={onKeep} isDisabled={isPending}>
            Keep what is chosen
          </Button>
          <Button onPress={onClose}>Leave the stored record</Button>
        </>
      }
    >
      <Notice tone="mind" title="Somebody else changed this record while you had it open.">
        Both are shown; choose for each line which one stands. Nothing of yours was written yet.
      </Notice>
      {rows.length === 0 ? (
        <p>The two records say the same now.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th>Field</th>
              <th>Stored now</th>
              <th>Yours</th>
              <th>Stands</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row, i) => (
              <tr key={row.field}>
                <td>{fieldNames[row.field]}</td>
                <td>{sayField(row.field, row.theirs)}</td>
                <td>{sayField(row.field, row.mine)}</td>
                <td>
                  <Words
                    label={`${fieldNames[row.field]}: which stands`}
                    value={row.choice}
                    options={[
                      { value: 'theirs', label: 'stored' },
                      { value: 'mine', label: 'yours' },
                    ]}
                    onChange={(choice) => onChange(rows.map((r, at) => (at === i ? { ...r, choice } : r)))}
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </Dialog>
  )
}
