import type { CivilDate } from '@underbough/model'
import { CrewLineSample, DayLine, type Hours } from '@underbough/pictures'
import { Button as AriaButton } from 'react-aria-components/Button'
import type { Crew, PlanWhole } from '../api/index.ts'
import { count, sayDay } from '../look/index.ts'
import { dayFacts } from './facts.ts'

export interface BoardDay {
  date: CivilDate
  byCrew: ReadonlyMap<string, PlanWhole['daySheets'][number]>
}
interface BoardProps {
  days: readonly BoardDay[]
  crews: readonly Crew[]
  chosen: CivilDate | null
  onChoose(date: CivilDate): void
}

/** Days across, crews down; each cell is the crew's day as a line over its hours. A day's head chooses it. */
export function Board({ days, crews, chosen, onChoose }: BoardProps) {
  const hours = sharedHours(days)
  return (
    <div className="board-roll">
      <table className="board">
        <thead>
          <tr>
            <th>
              <span className="out-of-sight">Crew</span>
            </th>
            {days.map(({ date, byCrew }) => {
              const sent = [...byCrew.values()].every((sheet) => sheet.publishedAt !== null)
              return (
                <th
                  key={date}
                  className={date === chosen ? 'board-chosen' : undefined}
                  aria-current={date === chosen ? 'date' : undefined}
                >
                  <AriaButton className="board-day" onPress={() => onChoose(date)}>
                    {sayDay(date)}
                    {sent ? <span className="board-sent">sent</span> : null}
                  </AriaButton>
                </th>
              )
            })}
          </tr>
        </thead>
        <tbody>
          {crews.map((crew) => (
            <tr key={crew.id}>
              <th scope="row" className="board-crew">
                <span className="row c">
                  <CrewLineSample letter={crew.letter} />
                  <b>{crew.name}</b>
                </span>
                <span className="s q">{[`level ${crew.level}`, ...crew.equipment].join(', ')}</span>
              </th>
              {days.map(({ date, byCrew }) => (
                <td key={date} className={date === chosen ? 'board-chosen' : undefined}>
                  <DayLine day={dayFacts(crew, date, byCrew.get(crew.id))} hours={hours} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <p className="caption">
        {`Hours of the day along each line; a mark stands at the middle of its visit. ${count(days.length, 'day')} on the board.`}
      </p>
    </div>
  )
}

/** The span of hours that every line of the board shares, whole hours. */
function sharedHours(days: readonly BoardDay[]): Hours {
  const sheets = days.flatMap(({ byCrew }) => [...byCrew.values()])
  const from = Math.min(480, ...sheets.map((sheet) => sheet.startMinute))
  const to = Math.max(960, ...sheets.map((sheet) => sheet.endMinute))
  return { fromMinute: Math.floor(from / 60) * 60 - 30, toMinute: Math.ceil(to / 60) * 60 }
}
