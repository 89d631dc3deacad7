import { beaufortFromMps } from '@underbough/exchange/wind'
import { type CivilDate, dayNumber, type GustDay } from '@underbough/model'
import { compassWord } from '@underbough/pictures'
import { count, Empty, Plate, sayDate } from '../look/index.ts'
import { onPhone, textScaleOf, useWidth } from '../tree/useWidth.ts'
import { sayWind } from './windWords.ts'

const HEIGHT = 190
const EDGE = { left: 30, right: 8, top: 24, foot: 26 }
const STRONGEST = 8
/** Hairs are dark from here on where no file in use says what is strong. */
const DARK_FROM_MPS = beaufortFromMps(8)

/** The strongest gust of each day, all years side by side, and the strongest days in a list. */
export function WindHistory({
  days,
  strongFromMps,
}: {
  days: readonly GustDay[]
  strongFromMps: number | null
}) {
  const [box, width] = useWidth()
  const strongest = days.toSorted((a, b) => b.gustMps - a.gustMps).slice(0, STRONGEST)
  return (
    <Plate
      title="Strongest gust of each day"
      aside={days.length > 0 ? count(days.length, 'day') : undefined}
      caption={
        days.length > 0
          ? `Each hair is the strongest gust of a day as the station measured it, dark from ${sayWind(strongFromMps ?? DARK_FROM_MPS)} on. A day without a hair has no gust on record: the station reported none, or the file does not reach there.`
          : null
      }
    >
      <div ref={box}>
        {days.length === 0 ? (
          <Empty title="No gust on record yet.">
            Read a file of hourly weather from a station near the site.
          </Empty>
        ) : (
          <>
            {width > 0 ? <Hairs days={days} widthPx={width} strongFromMps={strongFromMps} /> : null}
            <h3 className="wind-strongest">Strongest days</h3>
            <ol className="wind-days">
              {strongest.map((day) => (
                <li key={day.on}>
                  <b>{sayDate(day.on)}</b>: {sayWind(day.gustMps)}
                  {day.fromDeg === null ? '' : `, from ${compassWord(day.fromDeg)}`}
                  <span className="q">, {day.station}</span>
                </li>
              ))}
            </ol>
          </>
        )}
      </div>
    </Plate>
  )
}

function Hairs({
  days,
  widthPx,
  strongFromMps,
}: {
  days: readonly GustDay[]
  widthPx: number
  strongFromMps: number | null
}) {
  const words = 12 * textScaleOf(window.innerWidth)
  const first = dayNumber(days[0]!.on)
  const strong = strongFromMps ?? DARK_FROM_MPS
  const span = Math.max(1, dayNumber(days.at(-1)!.on) - first)
  const most = Math.ceil(Math.max(...days.map((day) => day.gustMps), strongFromMps ?? 0, 10) / 10) * 10
  const x = (on: CivilDate) =>
    EDGE.left + ((dayNumber(on) - first) / span) * (widthPx - EDGE.left - EDGE.right)
  const y = (mps: number) => HEIGHT - EDGE.foot - (mps / most) * (HEIGHT - EDGE.top - EDGE.foot)
  const ticks = Array.from({ length: most / 10 + 1 }, (_, i) => i * 10)
  return (
    <svg
      viewBox={`0 0 ${widthPx} ${HEIGHT}`}
      width={widthPx}
      height={HEIGHT}
      role="img"
      aria-label={`Strongest gust of each day from ${sayDate(days[0]!.on)} to ${sayDate(days.at(-1)!.on)}; the strongest ${sayWind(Math.max(...days.map((day) => day.gustMps)))}`}
    >
      <text x={0} y={words - 1} fontSize={words} fill="var(--ink-2)">
        m/s
      </text>
      {ticks.map((mps) => (
        <g key={mps}>
          <path d={`M${EDGE.left} ${y(mps)}H${widthPx - EDGE.right}`} stroke="var(--rule)" />
          <text x={EDGE.left - 6} y={y(mps) + 4} textAnchor="end" fontSize={words} fill="var(--ink-2)">
            {mps}
          </text>
        </g>
      ))}
      {[days.filter((day) => day.gustMps < strong), days.filter((day) => day.gustMps >= strong)].map(
        (some, i) => (
          <path
            key={i === 0 ? 'others' : 'strong'}
            d={hairsOf(some, x, y)}
            stroke={i === 0 ? 'var(--edge)' : 'var(--ink)'}
            strokeOpacity={i === 0 ? 0.6 : 1}
            strokeWidth={span < 500 ? 1.4 : 1}
            fill="none"
          />
        ),
      )}
      {yearsOf(days, widthPx).map((on) => (
        <text key={on} x={x(on)} y={HEIGHT - 6} fontSize={words} fill="var(--ink-2)">
          {span < 800 ? sayDate(on) : on.slice(0, 4)}
        </text>
      ))}
    </svg>
  )
}

/** One hair a pixel at most, the strongest of its days. */
function hairsOf(days: readonly GustDay[], x: (on: CivilDate) => number, y: (mps: number) => number): string {
  const strongest = new Map<number, number>()
  for (const { on, gustMps } of days) {
    const at = Math.round(x(on) * 2) / 2
    strongest.set(at, Math.max(strongest.get(at) ?? 0, gustMps))
  }
  return [...strongest].map(([at, mps]) => `M${at} ${y(0)}V${y(mps).toFixed(1)}`).join('')
}

/** Where the axis is named: begins of years, or of quarters where there are few, with room for their words. */
function yearsOf(days: readonly GustDay[], widthPx: number): CivilDate[] {
  const [first, last] = [days[0]!.on, days.at(-1)!.on]
  const short = dayNumber(last) - dayNumber(first) < 800
  const months = short ? ['01', '04', '07', '10'] : ['01']
  const years = Array.from(
    { length: Number(last.slice(0, 4)) - Number(first.slice(0, 4)) + 1 },
    (_, i) => Number(first.slice(0, 4)) + i,
  )
  const marks = years
    .flatMap((year) => months.map((month) => `${year}-${month}-01`))
    .filter((on) => on >= first && on < last)
  const room = Math.max(1, Math.floor((widthPx - EDGE.left) / (onPhone() ? 120 : 90)))
  const step = Math.ceil(marks.length / room)
  const shown = marks.filter((_, i) => i % step === 0)
  return shown.filter(
    (on) =>
      ((dayNumber(last) - dayNumber(on)) / Math.max(1, dayNumber(last) - dayNumber(first))) * widthPx > 40,
  )
}
