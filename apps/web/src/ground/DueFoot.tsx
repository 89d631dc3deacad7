import { addDays, type CivilDate } from '@underbough/model'
import { DueStrip, dueScale } from '@underbough/pictures'
import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useRef, useState } from 'react'
import type { DueWeek, DueStrip as Strip } from '../api/index.ts'
import { Button, count, sayDate } from '../look/index.ts'
import {
  type Brush,
  drawBrush,
  movePeg,
  type PegName,
  pegAfterKey,
  sayCounts,
  spanOf,
  sumWithin,
  totalOf,
} from './brush.ts'
import { WeekRow } from './WeekRow.tsx'

export interface DueFootProps {
  strip: Strip
  /** The weeks as the filters leave them. */
  weeks: readonly DueWeek[]
  brush: Brush | null
  onBrush(brush: Brush | null): void
  /** Crews at work, to say how many crew-days the brushed trees ask for; 0 when not known. */
  crews: number
  /** What the strip is narrowed to, in words; null for everything. */
  narrowed: string | null
  onLetGo(): void
}

/** The due strip along the foot: weeks of looks, two pegs, and the figures between them. */
export function DueFoot(props: DueFootProps) {
  const { strip, weeks, brush, onBrush, crews, narrowed, onLetGo } = props
  const [table, setTable] = useState(false)
  const [box, width] = useWidth()
  const sum = sumWithin(weeks, brush)
  const total = totalOf(sum)
  const ample = ampleVisits(strip, weeks)
  const perCrewDay = crewDayVisits(strip, crews)
  const shown = brush ?? {
    from: weeks[0]?.week ?? strip.thisWeek,
    to: addDays(weeks.at(-1)?.week ?? strip.thisWeek, 7),
  }
  return (
    <section className="due-foot" aria-label="Looks due by week">
      <div className="due-words">
        <h2>Looks due by week</h2>
        <span>
          <b>
            {sayDate(shown.from, true)} to {sayDate(addDays(shown.to, -1))}
          </b>
          <span className="due-count">
            {count(total, 'tree')}
            {total > 0 ? `: ${sayCounts(sum)}` : ''}
          </span>
        </span>
        {perCrewDay && total > 0 ? (
          <span className="q">about {(total / perCrewDay).toFixed(1)} crew-days</span>
        ) : null}
        <span className="sp s q due-hint">
          {narrowed ?? (ample ? `The crews can visit ${ample} in a week` : 'Drag the pegs, or lasso the map')}
        </span>
        {narrowed ? (
          <Button kind="quiet" className="line-press" onPress={onLetGo}>
            Let it go
          </Button>
        ) : null}
        <Button
          kind="quiet"
          className="line-press"
          onPress={() => (brush ? onBrush(null) : setTable(!table))}
        >
          {brush ? 'Show all weeks' : table ? 'Put the figures away' : 'Show the figures'}
        </Button>
      </div>
      <div ref={box} className="due-sheet">
        {table && !brush ? (
          <WeekTable weeks={weeks} />
        ) : width === 0 ? null : width < 560 ? (
          <WeekRow weeks={weeks} thisWeek={strip.thisWeek} brush={brush} onBrush={onBrush} />
        ) : (
          <BrushedStrip {...props} widthPx={width} />
        )}
      </div>
    </section>
  )
}

function BrushedStrip({ strip, weeks, brush, onBrush, widthPx }: DueFootProps & { widthPx: number }) {
  const span = spanOf(weeks)
  const drawn = useRef<CivilDate | null>(null)
  const facts = useMemo(() => factsOf(strip, weeks), [strip, weeks])
  if (!span) return <p className="q">No weeks yet.</p>
  const scale = dueScale(facts, widthPx)
  const mondayUnder = (event: PointerEvent<SVGElement>) => {
    const sheet = event.currentTarget.ownerSVGElement!.getBoundingClientRect()
    return scale.mondayAt(((event.clientX - sheet.left) / sheet.width) * widthPx)
  }
  const pegProps = (peg: PegName) => ({
    'aria-valuemin': 0,
    'aria-valuemax': weeks.length,
    'aria-valuenow': brush ? weeks.filter((w) => w.week < brush[peg]).length : 0,
    'aria-valuetext': brush ? `week of ${sayDate(peg === 'from' ? brush.from : addDays(brush.to, -7))}` : '',
    onPointerDown: (event: PointerEvent<SVGGElement>) => {
      event.currentTarget.setPointerCapture(event.pointerId)
      event.stopPropagation()
    },
    onPointerMove: (event: PointerEvent<SVGGElement>) => {
      if (brush && event.currentTarget.hasPointerCapture(event.pointerId))
        onBrush(movePeg(brush, peg, mondayUnder(event), span))
    },
    onKeyDown: (event: KeyboardEvent<SVGGElement>) => {
      const next = brush && pegAfterKey(brush, peg, event.key, span)
      if (!next) return
      event.preventDefault()
      onBrush(next)
    },
  })
  const sheet = {
    style: { cursor: 'crosshair', touchAction: 'pan-y' as const },
    onPointerDown: (event: PointerEvent<SVGRectElement>) => {
      event.currentTarget.setPointerCapture(event.pointerId)
      drawn.current = mondayUnder(event)
    },
    onPointerMove: (event: PointerEvent<SVGRectElement>) => {
      if (drawn.current && event.currentTarget.hasPointerCapture(event.pointerId)) {
        const here = mondayUnder(event)
        if (here !== drawn.current) onBrush(drawBrush(drawn.current, here, span))
      }
    },
    onPointerUp: () => {
      drawn.current = null
    },
  }
  const months = widthPx < 860
  return (
    <DueStrip
      {...facts}
      brush={brush}
      widthPx={widthPx}
      heightPx={months ? 108 : 160}
      by={months ? 'months' : 'weeks'}
      pegs={{ from: pegProps('from'), to: pegProps('to') }}
      sheet={sheet}
    />
  )
}

/** Far above the bars the crews' line would press them flat: it is then said in words instead. */
function ampleVisits(strip: Strip, weeks: readonly DueWeek[]): number | null {
  const most = Math.max(1, ...weeks.map((w) => totalOf(w.due)))
  const least = Math.min(...strip.capacity.map((c) => c.visits).filter((v) => v > 0))
  return Number.isFinite(least) && least > 1.5 * most ? least : null
}

function factsOf(strip: Strip, weeks: readonly DueWeek[]) {
  const ample = ampleVisits(strip, weeks) !== null
  const capacity = new Map(ample ? [] : strip.capacity.map((c) => [c.week, c.visits] as const))
  return {
    today: strip.today,
    weeks: weeks.map(({ week, due: { unrated, ...counts } }) => ({
      weekOf: week,
      counts,
      unrated,
      capacity: capacity.get(week) ?? null,
    })),
    rounds: strip.rounds.map((r) => ({ letter: r.letter, from: r.from, to: addDays(r.to, 1) })),
  }
}

/** Visits a crew makes in a day, from what all crews can visit in a week of five; null when it is not known. */
function crewDayVisits(strip: Strip, crews: number): number | null {
  const best = Math.max(0, ...strip.capacity.map((c) => c.visits))
  return crews > 0 && best > 0 ? best / (crews * 5) : null
}

function WeekTable({ weeks }: { weeks: readonly DueWeek[] }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reached by keyboard
    <section className="week-table" tabIndex={0} aria-label="Figures of the weeks">
      <table>
        <thead>
          <tr>
            <th>Week of</th>
            {['Extreme', 'High', 'Moderate', 'Low', 'Not yet rated', 'Overdue'].map((w) => (
              <th key={w} className="n">
                {w}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {weeks.map(({ week, due, late }) => (
            <tr key={week}>
              <td>{sayDate(week)}</td>
              {[due.extreme, due.high, due.moderate, due.low, due.unrated, totalOf(late)].map((n, i) => (
                <td key={i} className="n">
                  {n}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function useWidth() {
  const box = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useEffect(() => {
    const element = box.current
    if (!element) return
    const watch = new ResizeObserver(() => setWidth(element.clientWidth))
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  return [box, width] as const
}
