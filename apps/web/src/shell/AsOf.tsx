import { useAsOf } from '../api/index.ts'
import { KeepingState, sayDate, sayTime } from '../look/index.ts'

/** Says since when what a page shows is known, where it came from this device and not from the office; else nothing. */
export function AsOf({ address }: { address: string }) {
  const at = useAsOf(address)
  if (!at) return null
  const day = at.toISOString().slice(0, 10)
  const isToday = day === new Date().toISOString().slice(0, 10)
  return (
    <p className="as-of" role="status">
      <KeepingState keeping="on-this-phone">
        {`On this phone, as of ${isToday ? '' : `${sayDate(day, true)}, `}${sayTime(at)}`}
      </KeepingState>
    </p>
  )
}
