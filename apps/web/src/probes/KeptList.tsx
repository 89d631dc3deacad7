import { Button as AriaButton } from 'react-aria-components/Button'
import { sayTime } from '../look/index.ts'
import type { KeptReading } from './store.ts'
import { kindNames } from './words.ts'

/** Readings that were left, refused, or wait for signal; a press takes one up again. */
export function KeptList({
  here,
  onOpen,
}: {
  here: readonly KeptReading[]
  onOpen(readingId: string): void
}) {
  if (here.length === 0) return null
  return (
    <section className="kept-readings" aria-label="On this phone">
      <h2>On this phone, not yet at the office</h2>
      <ul className="kinds">
        {here.map((one) => (
          <li key={one.id}>
            <AriaButton className="kind" onPress={() => onOpen(one.id)}>
              <b>
                {one.values.label} {kindNames[one.values.kind]}
              </b>
              <span className={one.refusals.length > 0 ? 'field-refusal' : 'q'}>
                {one.refusals[0]?.message ??
                  (one.probe
                    ? 'handed in, waits for signal or for its visit'
                    : `left at ${sayTime(one.keptAt)}: go on`)}
              </span>
            </AriaButton>
          </li>
        ))}
      </ul>
    </section>
  )
}
