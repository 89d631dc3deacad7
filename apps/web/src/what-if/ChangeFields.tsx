import { Select } from '../look/index.ts'
import type { ShutHours } from './reckon.ts'
import { Slide } from './Slide.tsx'
import { dayNames, hour } from './shut.ts'
import type { Change } from './trial.ts'

const bearingOf = ([eastM, northM]: readonly [number, number]) =>
  ((Math.atan2(eastM, northM) * 180) / Math.PI + 360) % 360
const carry = (metres: number, bearingDeg: number): [number, number] => {
  const angle = (bearingDeg * Math.PI) / 180
  return [metres * Math.sin(angle), metres * Math.cos(angle)]
}

/** How far and which way, for those who do not drag. */
export function MoveFields({
  moved,
  furthestM,
  onChange,
}: {
  moved: [number, number]
  furthestM: number
  onChange(moved: [number, number]): void
}) {
  const far = Math.hypot(...moved)
  const way = bearingOf(moved)
  return (
    <div className="slides">
      {/* At rest there is no way to keep a bearing in, so a hand's breadth holds it. */}
      <Slide
        label="How far"
        unit="m"
        value={far < 0.02 ? 0 : far}
        least={0}
        most={furthestM}
        step={0.5}
        onChange={(metres) => onChange(carry(Math.max(metres, 0.001), way))}
      />
      <Slide
        label="Which way, from true north"
        unit="°"
        value={way}
        least={0}
        most={360}
        step={1}
        onChange={(bearingDeg) => onChange(carry(Math.max(far, 0.001), bearingDeg))}
      />
    </div>
  )
}

const hourChoices = Array.from({ length: 24 }, (_, h) => ({ value: String(h), label: hour(h) }))

/** When nobody is let in: at gust warnings, or at hours of the week. */
export function ShutFields({
  change,
  share,
  hours,
  onShare,
  onHours,
}: {
  change: Exclude<Change, 'move'>
  share: number
  hours: ShutHours
  onShare(share: number): void
  onHours(hours: ShutHours): void
}) {
  if (change === 'gusts')
    return (
      <div className="slides">
        <Slide
          label="Falls that would come while it is shut"
          unit="of 100"
          value={share * 100}
          least={0}
          most={100}
          step={1}
          onChange={(of100) => onShare(of100 / 100)}
        />
      </div>
    )
  return (
    <div className="hotspot-selects">
      <Select
        label="Shut from"
        value={String(hours.fromHour)}
        options={hourChoices}
        onChange={(h) => onHours({ ...hours, fromHour: Number(h) })}
      />
      <Select
        label="to"
        value={String(hours.toHour)}
        options={hourChoices}
        onChange={(h) => onHours({ ...hours, toHour: Number(h) })}
      />
      <Select
        label="On"
        value={hours.days}
        options={(['every', 'working', 'weekend'] as const).map((value) => ({
          value,
          label: dayNames[value],
        }))}
        onChange={(days) => onHours({ ...hours, days })}
      />
    </div>
  )
}
