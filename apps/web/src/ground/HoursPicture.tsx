import { sayPeople } from '../look/index.ts'
import { dayMeans } from './bands.ts'

const W = 312
const H = 92
const left = 34
const base = H - 18

/** People in a zone by hour of the day: working days as bars, weekends as a line over them. */
export function HoursPicture({
  people,
  mostPeople,
}: {
  people: readonly number[]
  /** Top of the axis, where several pictures stand together. */
  mostPeople?: number
}) {
  const working = dayMeans(people, 'working')
  const weekend = dayMeans(people, 'weekend')
  const most = mostPeople || Math.max(...working, ...weekend) || 1
  const x = (hour: number) => left + ((W - left - 4) * hour) / 24
  const y = (value: number) => base - ((base - 10) * value) / most
  const steps = weekend.map((v, h) => `${h === 0 ? 'M' : 'L'}${x(h)} ${y(v)}H${x(h + 1)}`).join('')
  const busiest = working.indexOf(Math.max(...working))
  const says = `People by hour. Working days: most at ${busiest}:00, ${sayPeople(working[busiest]!)}. Weekends: most ${sayPeople(Math.max(...weekend))}.`
  return (
    <svg viewBox={`0 0 ${W} ${H}`} width={W} height={H} role="img" aria-label={says} className="hours">
      <path d={`M${left} ${y(most)}H${W - 4}`} stroke="var(--rule)" />
      <text className="e s" x={left - 6} y={y(most) + 4}>
        {sayPeople(most)}
      </text>
      <text className="e s" x={left - 6} y={base + 2}>
        0
      </text>
      {working.map((v, h) =>
        v > 0 ? (
          <rect
            key={h}
            x={x(h) + 0.7}
            y={y(v)}
            width={x(1) - x(0) - 1.4}
            height={base - y(v)}
            fill="var(--zone-ink)"
            opacity=".45"
          />
        ) : null,
      )}
      <path d={steps} fill="none" stroke="var(--ink)" strokeWidth="1.4" strokeDasharray="4 2" />
      <path d={`M${left} ${base}H${W - 4}`} stroke="var(--ink)" strokeWidth="1.2" />
      {[0, 6, 12, 18, 24].map((h) => (
        <text key={h} className="m s" x={x(h)} y={H - 4}>
          {h}
        </text>
      ))}
    </svg>
  )
}
