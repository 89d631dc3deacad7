import { Button, NumberField } from '../look/index.ts'
import { ReadChips } from './ConditionChips.tsx'
import { replaced, without } from './part.ts'
import { placeOfSegment, startsOf } from './reading.ts'
import type { SegmentRow } from './values.ts'

/** Stretches of a core from the bark inwards. Each begins where the one before ends; an empty one waits at the end. */
export function SegmentRows(props: {
  rows: readonly SegmentRow[]
  barkCm: number | null
  reachedCm: number | null
  onChange(rows: SegmentRow[]): void
  at(path: string): string | null
}) {
  const { rows, barkCm, reachedCm, onChange, at } = props
  const starts = startsOf(rows, barkCm)
  const change = (i: number, part: Partial<SegmentRow>) => {
    const next = replaced(rows, i, part)
    const last = next.at(-1)!
    const isWhole = last.condition !== null && last.toCm !== null
    onChange(
      isWhole && (reachedCm === null || last.toCm! < reachedCm)
        ? [...next, { condition: null, toCm: null }]
        : next,
    )
  }
  return (
    <ol className="segments" aria-label="From the bark inwards">
      {rows.map((row, i) => {
        const refusal = at(`reading.rows.${i}.condition`)
        const place = `reading.segments.${placeOfSegment(rows, i)}`
        const isOwn = row.condition !== null && row.condition !== 'unread' && row.toCm !== null
        return (
          <li key={i} className="segment">
            <div className="segment-head">
              <b>{sayStart(starts[i] ?? null, i)}</b>
              <NumberField
                label="to"
                unit="cm"
                value={row.toCm}
                onChange={(toCm) => change(i, { toCm })}
                refusal={at(`reading.rows.${i}.toCm`) ?? (isOwn ? at(place) : null)}
              />
            </div>
            <ReadChips
              label={`Stretch ${i + 1}`}
              value={row.condition}
              onChange={(condition) => change(i, { condition })}
            />
            {refusal ? (
              <p className="field-refusal" data-refused tabIndex={-1}>
                {refusal}
              </p>
            ) : null}
            <div className="row wrap">
              {reachedCm !== null && row.toCm !== reachedCm && row.condition !== null ? (
                <Button kind="quiet" onPress={() => change(i, { toCm: reachedCm })}>
                  To the end, {reachedCm} cm
                </Button>
              ) : null}
              {rows.length > 1 ? (
                <Button kind="quiet" onPress={() => onChange(without(rows, i))}>
                  Take this out
                </Button>
              ) : null}
            </div>
          </li>
        )
      })}
    </ol>
  )
}

const sayStart = (fromCm: number | null, i: number) =>
  fromCm !== null
    ? `From ${fromCm} cm`
    : i === 0
      ? 'From the end of the bark'
      : 'From where the last one ends'
