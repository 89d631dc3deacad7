import { Link } from 'react-router'
import { useKeepState } from '../keep/index.ts'
import { Facts, Notice } from '../look/index.ts'
import { sayBytes } from '../photos/index.ts'

/** How much room this device has, and whether its browser may clear what is kept. */
export function RoomPart() {
  const { room, persisted } = useKeepState()
  return (
    <section className="waiting-room" aria-label="Room on this device">
      <h2>Room on this device</h2>
      {room?.isShort ? <ShortOfRoom /> : null}
      <Facts
        rows={[
          [
            'Kept for good',
            persisted === null
              ? 'not asked yet'
              : persisted
                ? 'yes: this browser clears nothing by itself'
                : 'not promised: this browser may clear what it keeps when the device runs short. Send often; putting the program on the home screen helps',
          ],
          [
            'Room left',
            room
              ? `${sayBytes(room.quotaBytes - room.usageBytes)} of ${sayBytes(room.quotaBytes)}`
              : 'this browser does not say',
          ],
        ]}
      />
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
    <Notice
      tone="mind"
      title={`${sayBytes(Math.max(0, room.quotaBytes - room.usageBytes))} left on this device.`}
    >
      <Link to="/waiting">What waits here</Link>
    </Notice>
  )
}
