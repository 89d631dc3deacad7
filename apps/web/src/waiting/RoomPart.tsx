import { Link } from 'react-router'
import { useKeepState } from '../keep/index.ts'
import { Notice } from '../look/index.ts'

/** `150 MB`, `10.7 GB`. */
export function sayRoom(bytes: number): string {
  const mb = Math.max(0, Math.round(bytes / 1e6))
  return mb < 1000 ? `${mb} MB` : `${(mb / 1000).toFixed(1)} GB`
}

/** How much room this device has, and whether its browser may clear what is kept. */
export function RoomPart() {
  const { room, persisted } = useKeepState()
  return (
    <section className="waiting-room" aria-label="Room on this device">
      <h2>Room on this device</h2>
      {room?.isShort ? <ShortOfRoom /> : null}
      <p>
        {room
          ? `${sayRoom(room.quotaBytes - room.usageBytes)} of ${sayRoom(room.quotaBytes)} are left. `
          : 'This browser does not say how much room is left. '}
        {persisted === null
          ? null
          : persisted
            ? 'This browser promised to clear nothing by itself.'
            : 'This browser did not promise to keep things: when the device runs short it may clear what waits here. Send often, and put the program on the home screen.'}
      </p>
      <p className="q">
        What the office has stays here for seven days more, in case the office is set back to an older copy of
        itself; with little room left, for one day.
      </p>
    </section>
  )
}

function ShortOfRoom() {
  return (
    <Notice tone="mind" title="Little room is left.">
      Send what waits, and clear other things from this device. When there is none, a change is refused aloud
      and not shown as kept.
    </Notice>
  )
}

/** Under the head of every page, while room is short. */
export function RoomLine() {
  const { room } = useKeepState()
  if (!room?.isShort) return null
  return (
    <Notice tone="mind" title={`Only ${sayRoom(room.quotaBytes - room.usageBytes)} left on this device.`}>
      <Link to="/waiting">What waits here</Link>
    </Notice>
  )
}
