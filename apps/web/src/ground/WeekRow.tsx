import { addDays, type CivilDate, riskWords } from '@underbough/model'
import { useEffect, useRef } from 'react'
import { Button } from 'react-aria-components/Button'
import type { DueWeek } from '../api/index.ts'
import { sayDate } from '../look/index.ts'
import { type Brush, totalOf } from './brush.ts'

const barPx = 34

/** The strip on a phone: one row of weeks, swiped sideways. Pressing a week brushes it; pressing it again shows all. */
export function WeekRow({
  weeks,
  thisWeek,
  brush,
  onBrush,
}: {
  weeks: readonly DueWeek[]
  thisWeek: CivilDate
  brush: Brush | null
  onBrush(brush: Brush | null): void
}) {
  const now = useRef<HTMLLIElement>(null)
  useEffect(() => {
    const element = now.current
    if (element?.parentElement) element.parentElement.scrollLeft = element.offsetLeft - 60
  }, [])
  // One crowded week must not press all others flat: the bars are cut at the height of the ninth in ten.
  const totals = weeks.map((w) => totalOf(w.due)).sort((a, b) => a - b)
  const most = Math.max(1, totals[Math.floor(totals.length * 0.9)] ?? 1)
  return (
    <ul className="week-row">
      {weeks.map(({ week, due }) => {
        const total = totalOf(due)
        const inside = !brush || (week >= brush.from && week < brush.to)
        const only = brush?.from === week && brush.to === addDays(week, 7)
        const label = `Week of ${sayDate(week)}: ${total} due${week < thisWeek ? ', overdue' : ''}`
        return (
          <li
            key={week}
            ref={week === thisWeek ? now : undefined}
            className={week === thisWeek ? 'this-week' : undefined}
          >
            <Button
              aria-label={label}
              className={inside ? 'week week-in' : 'week'}
              onPress={() => onBrush(only ? null : { from: week, to: addDays(week, 7) })}
            >
              <span className="week-count">{total || ''}</span>
              <span
                className="week-bar"
                style={{ height: Math.max(total ? 3 : 0, Math.min(barPx, (barPx * total) / most)) }}
              >
                {[...riskWords].reverse().map((risk) =>
                  due[risk] ? (
                    <span
                      key={risk}
                      style={{
                        flexGrow: due[risk],
                        background: `var(--risk-${riskWords.indexOf(risk) + 1})`,
                      }}
                    />
                  ) : null,
                )}
                {due.unrated ? <span style={{ flexGrow: due.unrated, background: 'var(--edge)' }} /> : null}
              </span>
              <span className="week-day">{sayDate(week, true)}</span>
            </Button>
          </li>
        )
      })}
    </ul>
  )
}
