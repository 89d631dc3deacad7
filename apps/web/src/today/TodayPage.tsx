import { useState } from 'react'
import { Button, Empty, ErrorNote, Loading, sayDate, sayDay } from '../look/index.ts'
import { DaysAhead } from '../pack/index.ts'
import { Day } from './Day.tsx'
import { useDayHere } from './useDayHere.ts'
import './today.css'

/** The crew's day: the way in order, the next stop large, one action at the thumb. */
export default function TodayPage() {
  const [date, setDate] = useState<string | null>(null)
  const { asked, here, reading } = useDayHere(date)
  if (here) return <Day here={here} />
  if (!asked.data)
    return asked.error ? (
      <div className="page">
        <ErrorNote
          title="The day cannot be shown."
          error={asked.error}
          action={<Button onPress={() => asked.refetch()}>Try again</Button>}
        />
      </div>
    ) : (
      <Loading>Fetching the day.</Loading>
    )
  if (reading) return <Loading>Fetching the day.</Loading>
  const { nextDate } = asked.data
  return (
    <div className="page">
      <h1>{sayDate(asked.data.date)}</h1>
      <Empty
        title="No day has been sent to you for this date."
        action={
          nextDate ? (
            <Button kind="do" onPress={() => setDate(nextDate)}>{`See ${sayDay(nextDate)}`}</Button>
          ) : undefined
        }
      >
        The trees of your round stand here once the office has sent the day.
      </Empty>
      <DaysAhead />
    </div>
  )
}
